import { type Alarm, type Drill, pathProof } from "@earthbell/model";
import { does, doersOf } from "./deeds.ts";
import { drillWaits } from "./drill-waits.ts";
import { instantWords } from "./instant.ts";
import type { Matter } from "./matter.ts";
import type { Me } from "./records.ts";

export interface DrillsAtDesk {
  readonly drills: readonly Drill[];
  /** Active ones. */
  readonly alarms: readonly Alarm[];
  readonly nameOf: (site: string) => string;
  readonly zoneHere: () => string;
  /** Of the reader: nobody is told to do what is not theirs to do. */
  readonly role: Me["role"];
}

/** A drill that runs out within this time is told of. */
const DUE_WITHIN_DAYS = 30;
const DAY_MS = 86_400_000;

/** Drills that run, were missed or are due, one matter a path. */
export function drillMatters(desk: DrillsAtDesk, now: number): readonly Matter[] {
  const paths = new Map<string, Drill[]>();
  for (const drill of desk.drills) {
    const key = JSON.stringify([drill.site, drill.path]);
    const held = paths.get(key);
    if (held === undefined) paths.set(key, [drill]);
    else held.push(drill);
  }
  return [...paths].flatMap(([key, held]) => pathMatter(key, held, desk, now));
}

function pathMatter(
  key: string,
  held: readonly Drill[],
  { alarms, nameOf, zoneHere, role }: DrillsAtDesk,
  now: number,
): readonly Matter[] {
  const { site, path } = held[0]!;
  const common = {
    key: `drill ${key}`,
    title: `${nameOf(site)}, path ${path}`,
    to: `/register/${encodeURIComponent(site)}`,
  };
  const running = held.find(({ ended }) => ended === null);
  if (running !== undefined) {
    const why = drillWaits(running, now);
    return [{ ...common, state: "must", word: "Drill", why, byWhen: instantWords(running.answerByAt) }];
  }
  const { state, text, order, dueOn } = pathProof(held, zoneHere(), now);
  const why = [text, does(role, "drill") ? order : drillsAreHeldBy()].filter((one) => one !== null).join(" ");
  if (state === "broken" && alarms.some((alarm) => isMissedOf(alarm, site, path))) return [];
  if (state === "broken") return [{ ...common, state: "fault", word: "Drill missed", why, byWhen: "now" }];
  if (dueOn === null || Date.parse(dueOn) - now > DUE_WITHIN_DAYS * DAY_MS) return [];
  return [{ ...common, state: "must", word: "Drill due", why, byWhen: dueOn }];
}

/** Said to those who look, and hold none. */
export function drillsAreHeldBy(): string {
  return `Drills are held by ${doersOf("drill")}.`;
}

/** The alarm names the person, and stays when the drill has dropped out of the newest ones. */
function isMissedOf({ sign, subject, ...alarm }: Alarm, site: string, path: string): boolean {
  return sign === "drill-missed" && alarm.site === site && subject.kind === "path" && subject.path === path;
}
