import type { Commissioning } from "@earthbell/model";
import type { Block } from "../../content/paper.ts";
import { sheetName, type TickedSheet } from "./ticked-sheets.ts";

/** Open steps that are spelled out at the top; the rest are counted. */
const MOST_OPEN = 12;

/** How it ended, what did not pass, and which steps of setting sheets are not ticked: first, in words. */
export function outcome(results: Commissioning | null, settings: readonly TickedSheet[]): readonly Block[] {
  if (results === null) return [];
  const { results: read, drills } = results;
  const passed = read.filter((one) => one.passed).length;
  const proved = drills.filter((one) => one.proved).length;
  const steps = settings.flatMap(({ ticked }) => ticked.steps);
  const done = steps.filter((one) => one.done === true).length;
  const counts = [
    `${passed} of ${read.length} recorded results passed`,
    `${proved} of ${drills.length} drills proved their path`,
    ...(steps.length === 0 ? [] : [`${done} of ${steps.length} steps of setting sheets ticked`]),
  ];
  const open = steps.length > done ? "Not complete: not every step of a setting sheet is ticked. " : "";
  const wrong = [...notPassed(results), ...notTicked(settings), ...changedSince(settings)];
  return [
    { kind: "paragraph", weight: "lead", text: `${open}${counts.join("; ")}.` },
    ...(wrong.length === 0 ? [] : [{ kind: "list", strong: true, items: wrong } as const]),
  ];
}

function notPassed({ results, drills }: Commissioning): readonly string[] {
  return [
    ...results
      .filter(({ passed }) => !passed)
      .map(({ array, step, at, reading }) => {
        const place = at === undefined ? "" : `, ${at}`;
        return `Not passed: array ${array}, ${step.replaceAll("-", " ")}${place}: ${reading}`;
      }),
    ...drills.filter(({ proved }) => !proved).map(({ path }) => `Path ${path} is not proved.`),
  ];
}

function notTicked(settings: readonly TickedSheet[]): readonly string[] {
  const open = settings.flatMap(({ ticked }) =>
    ticked.steps
      .filter(({ done }) => done !== true)
      .map(({ step, because }) =>
        because === undefined
          ? `Not ticked: ${sheetName(ticked)}, step ${step}; no reason is recorded`
          : `Not done: ${sheetName(ticked)}, step ${step}: ${because}`,
      ),
  );
  const more = open.length - MOST_OPEN;
  return more <= 0 ? open : [...open.slice(0, MOST_OPEN), `And ${more} more steps, marked below.`];
}

function changedSince(settings: readonly TickedSheet[]): readonly string[] {
  return settings
    .filter(({ changed }) => changed !== null)
    .map(({ ticked }) => `Changed since it was ticked: ${sheetName(ticked)}`);
}
