import { type Alarm, quietOf } from "../alarm/alarm.ts";
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

/** Why a beacon is lit or out, by everything that it shows. */
export function beaconGrounds(raised: readonly RaisedMatter[]): Grounds {
  if (raised.length === 0) return grounds("Out: no earth fault that it shows is there.");
  return grounds(`Lit: ${raised.map(({ site, text }) => `${site}, ${text}`).join("; ")}.`, {
    raised: raised.length,
  });
}
