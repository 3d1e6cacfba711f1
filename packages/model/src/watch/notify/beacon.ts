import { type Alarm, quietOf } from "../alarm/alarm.ts";
import type { Drill } from "../drill/drill-record.ts";
import { beaconsLitBy, drillLightEndsAt } from "../drill/drill-beacon.ts";
import { type Grounds, grounds, listed } from "../grounds.ts";
import { SIGNS } from "../sign.ts";
import type { AlarmMatter } from "./matter.ts";

/** Whose faults a beacon shows: of a site, all of them or those of the arrays of some paths. */
export interface BeaconPart {
  readonly site: string;
  /** Absent: every array of the site. */
  readonly paths?: readonly string[];
}

/** An earth fault that keeps a beacon lit. Plain JSON. */
export interface RaisedMatter {
  readonly site: string;
  /** Id of the case. */
  readonly matter: string;
  readonly text: string;
  /** Epoch milliseconds UTC. */
  readonly sinceAt: number;
}

/**
 * The faults of one site that keep a beacon lit at an instant: those that are there and that nobody has taken out of service,
 * shelved or suppressed. An acknowledgement puts nothing out, since the fault is still there; what only wants looking after
 * lights nothing, since a lamp that is always lit is seen by nobody.
 *
 * @param part   null where the beacon does not show this site
 * @param paths  the paths of the site's file
 */
export function raisedAt(
  part: BeaconPart | null,
  matters: readonly AlarmMatter[],
  paths: readonly { readonly id: string; readonly arrays: readonly string[] }[],
  now: number,
): readonly RaisedMatter[] {
  if (part === null) return [];
  const of = part.paths;
  const arrays = of && new Set(paths.filter(({ id }) => of.includes(id)).flatMap((path) => path.arrays));
  return matters.flatMap(({ id, site, alarms, closedAt }) => {
    const lit = closedAt === null ? alarms.filter((alarm) => lights(alarm, arrays, now)) : [];
    if (lit.length === 0) return [];
    const where = new Set(lit.flatMap(({ subject }) => (subject.kind === "array" ? [subject.array] : [])));
    const text = `array ${listed([...where])}: ${listed(lit.map(({ sign }) => SIGNS[sign].title))}`;
    return [{ site, matter: id, text, sinceAt: Math.min(...lit.map(({ activeAt }) => activeAt ?? now)) }];
  });
}

function lights(alarm: Alarm, arrays: ReadonlySet<string> | undefined, now: number): boolean {
  const { sign, subject, condition } = alarm;
  if (!SIGNS[sign].faultPresent || condition !== "active" || subject.kind !== "array") return false;
  return (arrays?.has(subject.array) ?? true) && quietOf(alarm, now) === null;
}

/** A drill that lights a beacon. Plain JSON. */
export interface DrillLight {
  readonly site: string;
  readonly drill: string;
  readonly path: string;
  /** Epoch milliseconds UTC. */
  readonly sinceAt: number;
  /** From then on the drill lights it no longer. */
  readonly untilAt: number;
}

/** Everything that a beacon shows. */
export interface BeaconShows {
  readonly raised: readonly RaisedMatter[];
  readonly drills: readonly DrillLight[];
}

/** Whether a path ends in a beacon: one that shows it by name, or all of its site. */
export function endsIn(part: BeaconPart | null, path: string): boolean {
  return part !== null && (part.paths?.includes(path) ?? true);
}

/** The drills of one site that light a beacon at an instant. Faults are not asked: whether one wins says `beaconState`. */
export function drillLightsAt(beacon: string, drills: readonly Drill[], now: number): readonly DrillLight[] {
  return drills.flatMap((drill) =>
    beaconsLitBy(drill, now)
      .filter((one) => one.beacon === beacon)
      .map((one) => ({
        site: drill.site,
        drill: drill.id,
        path: drill.path,
        sinceAt: drill.startedAt,
        untilAt: drillLightEndsAt(drill, one),
      })),
  );
}

/** What a beacon says. A fault wins over any drill, before, during and after it. */
export function beaconState({ raised, drills }: BeaconShows): "raised" | "drill" | "clear" {
  if (raised.length > 0) return "raised";
  return drills.length > 0 ? "drill" : "clear";
}

/** Why a beacon is lit or out, by everything that it shows. */
export function beaconGrounds(shows: BeaconShows): Grounds {
  const { raised, drills } = shows;
  const figures = { raised: raised.length, drills: drills.length };
  const held = listed(drills.map(({ site, path, drill }) => `${site}, path ${path}, drill ${drill}`));
  switch (beaconState(shows)) {
    case "clear":
      return grounds("Out: no earth fault that it shows is there.", figures);
    case "drill":
      return grounds(`Lit for a drill, no fault: ${held}.`, figures);
    case "raised": {
      const beside = drills.length === 0 ? "" : ` This is no drill, though one is held: ${held}.`;
      return grounds(
        `Lit: ${raised.map(({ site, text }) => `${site}, ${text}`).join("; ")}.${beside}`,
        figures,
      );
    }
  }
}
