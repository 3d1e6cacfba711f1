import { instantText, isInstant } from "../grounds.ts";
import { MINUTE } from "../time/span.ts";
import { given, refused } from "../refusal.ts";
import { type DrillStep, lookAtDrill } from "./drill.ts";
import type { Drill } from "./drill-record.ts";
import { beaconsOfDrill, drillLightEndsAt } from "./drill-beacon.ts";

/** What somebody says of a beacon of a drill. */
export interface BeaconSeen {
  readonly beacon: string;
  readonly by: string;
  /** When it was seen to burn; told to the minute it may lie up to a minute before the drill's start. */
  readonly seenAt: number;
}

/**
 * Records that a named person saw a beacon burn for a drill. The first word counts; one that comes after the end is kept and
 * changes no outcome. Seen while the drill did not light it is no proof and is refused.
 *
 * @param now  when it is said
 */
export function seeBeacon(drill: Drill, { beacon, by, seenAt }: BeaconSeen, now: number): DrillStep {
  if (!isInstant(seenAt) || !isInstant(now))
    return refused("DRILL_INSTANT_INVALID", "Give the instant at which it was seen.");
  const name = given(by);
  if (name === null) return refused("DRILL_NAME_MISSING", "Give the name of the person who saw it.");
  const one = beaconsOfDrill(drill).find((own) => own.beacon === beacon);
  if (one === undefined)
    return refused("DRILL_BEACON_UNKNOWN", `Drill ${drill.id} does not light beacon ${beacon}.`);
  if (one.seen !== null)
    return { ok: true, drill, reason: `${one.seen.by} saw it ${instantText(one.seen.at)}.` };
  const at = sameMinute(seenAt, drill.startedAt) ? Math.max(seenAt, drill.startedAt) : seenAt;
  const endsAt = drillLightEndsAt(drill, one);
  if (at < drill.startedAt || at > endsAt || at > now) {
    const until = endsAt > now ? "it still burns" : `it went out ${instantText(endsAt)}`;
    const text = `The drill lit beacon ${beacon} from ${instantText(drill.startedAt)}; ${until}.`;
    return refused("DRILL_BEACON_NOT_LIT", text);
  }
  const seen = { by: name, at, saidAt: now };
  const beacons = beaconsOfDrill(drill).map((own) => (own === one ? { ...one, seen } : own));
  return lookAtDrill({ ...drill, beacons }, now);
}

function sameMinute(one: number, other: number): boolean {
  return Math.floor(one / MINUTE) === Math.floor(other / MINUTE);
}
