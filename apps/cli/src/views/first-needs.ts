import { type ArrayAssessment, type Assessment, type PathAssessment, SITE_CODES } from "@earthbell/engine";
import type { State } from "../terminal/marks.ts";

/** Longest list of needs on one line; the rest is counted. */
const MOST_NEEDS = 5;

/** What needs a person first at a site, as one line over the detail. */
export function firstNeeds({ arrays, paths, owner }: Assessment): {
  readonly state: State;
  readonly words: string;
} {
  const needs = [
    ...arrays.flatMap(alarmNeeds),
    ...arrays.flatMap(arrayFaults),
    ...paths.flatMap(pathFaults),
    ...(owner.informed === true
      ? []
      : [owner.informed === false ? "owner not told" : "owner not told, or not recorded"]),
    ...arrays.flatMap(({ array, duty }) =>
      duty.alarm === "undecided" ? [`settle whether array ${array} must have an alarm`] : [],
    ),
    ...paths.flatMap(openPath),
  ];
  if (needs.length > 0) {
    const more = needs.length > MOST_NEEDS ? [`${needs.length - MOST_NEEDS} more below`] : [];
    return { state: "do-this", words: `Do this: ${[...needs.slice(0, MOST_NEEDS), ...more].join("; ")}` };
  }
  const cautions = [...arrays, ...paths, owner].flatMap(({ findings }) =>
    findings.filter(({ severity }) => severity === "caution"),
  ).length;
  return cautions > 0
    ? { state: "unsure", words: `Nothing falls short; ${counted(cautions, "caution")} to weigh below` }
    : { state: "proven", words: "Nothing falls short and nothing is open; keep it proved" };
}

const ALARM_NEEDS: Readonly<Record<string, (array: string) => string>> = {
  DUTY_NO_PATH: (array) => `array ${array} must have an alarm and has none`,
  DUTY_NO_SOUND_PATH: (array) => `array ${array} must have an alarm and has none that works`,
  DUTY_PATH_UNPROVEN: (array) => `array ${array} must have an alarm and none is known to work`,
};

function alarmNeeds({ array, findings }: ArrayAssessment): readonly string[] {
  return findings.flatMap(({ code }) => ALARM_NEEDS[code]?.(array) ?? []);
}

/** By its title, because "a fault on array A1" would be read as an earth fault. */
function arrayFaults({ array, findings }: ArrayAssessment): readonly string[] {
  return findings
    .filter(({ code, severity }) => severity === "fault" && ALARM_NEEDS[code] === undefined)
    .map(({ code }) => {
      const title = SITE_CODES.find((entry) => entry.code === code)?.title ?? code;
      return `array ${array}: ${title.charAt(0).toLowerCase()}${title.slice(1)}`;
    });
}

function pathFaults({ path, findings }: PathAssessment): readonly string[] {
  const faults = findings.filter(({ severity }) => severity === "fault").length;
  return faults === 0 ? [] : [`${counted(faults, "fault")} on path ${path}`];
}

function openPath({ path, verdict }: PathAssessment): readonly string[] {
  if (verdict === "unproven") return [`prove path ${path}`];
  return verdict === "cannot-tell" ? [`supply what is missing on path ${path}`] : [];
}

function counted(count: number, thing: string): string {
  return `${count} ${thing}${count === 1 ? "" : "s"}`;
}
