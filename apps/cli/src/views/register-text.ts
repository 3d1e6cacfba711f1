import type { ArrayAssessment, Assessment, Site } from "@earthbell/engine";
import { inkOf, markedPlain, type State } from "../terminal/marks.ts";
import type { Page } from "../terminal/page.ts";
import { printable } from "../terminal/printable.ts";
import { quantity } from "../terminal/quantity.ts";
import { type Cell, table } from "../terminal/table.ts";
import { pathVerdict } from "./assessment-text.ts";

/** One line of a register: an array of a site and how its alarm stands. */
export interface Registered {
  readonly site: Site;
  readonly assessment: Assessment;
}

/** Many sites as one table, a line for each array. */
export function registerText(unsafe: readonly Registered[], page: Page): string[] {
  const columns = [
    { title: "Site", align: "left" },
    { title: "Array", align: "left" },
    { title: "Power", align: "decimal" },
    { title: "Coldest", align: "decimal" },
    { title: "Alarm is", align: "left", flexible: true },
    { title: "below", align: "decimal" },
    { title: "Best path", align: "left", flexible: true },
  ] as const;
  const rows = printable(unsafe).flatMap(({ site, assessment }) =>
    assessment.arrays.map((array, index): readonly Cell[] => [
      index === 0 ? site.id : "",
      array.array,
      quantity(array.powerWatts, "real power", 3),
      array.maxVoltage === null ? "?" : `${array.maxVoltage.volts.toFixed(0)} V`,
      stateCell(dutyWords[array.duty.alarm], page),
      alarmBelow(array),
      bestPath(array, { site, assessment }, page),
    ]),
  );
  return table(columns, rows, page);
}

/** The insulation at which the alarm must operate: none where none must, a question mark where it is not known. */
function alarmBelow({ duty, insulationThreshold }: ArrayAssessment): string {
  if (duty.alarm === "not-required") return "–";
  return insulationThreshold === null ? "?" : quantity(insulationThreshold.ohms, "resistance");
}

const dutyWords: Readonly<Record<ArrayAssessment["duty"]["alarm"], { state: State; word: string }>> = {
  required: { state: "do-this", word: "required" },
  "not-required": { state: "not-asked", word: "not required" },
  undecided: { state: "unsure", word: "undecided" },
};

const verdictOrder = ["meets", "unproven", "cannot-tell", "falls-short"] as const;

/** The path of an array that stands best, or that there is none. */
function bestPath({ array, duty }: ArrayAssessment, { site, assessment }: Registered, page: Page): Cell {
  const serving = site.paths.filter((path) => path.arrays.includes(array)).map((path) => path.id);
  const verdicts = assessment.paths
    .filter(({ path }) => serving.includes(path))
    .map(({ verdict }) => verdict);
  const best = verdictOrder.find((verdict) => verdicts.includes(verdict));
  if (best !== undefined) return stateCell({ ...pathVerdict(best), word: best.replace("-", " ") }, page);
  return stateCell({ state: duty.alarm === "not-required" ? "not-asked" : "fault", word: "none" }, page);
}

function stateCell({ state, word }: { readonly state: State; readonly word: string }, page: Page): Cell {
  return { text: markedPlain(state, word, page), ink: inkOf(state, page) };
}
