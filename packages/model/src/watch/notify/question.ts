import type { Alarm } from "../alarm/alarm.ts";
import type { WatchLimits } from "../limits.ts";
import { HOUR, MINUTE } from "../time/span.ts";
import { SIGNS } from "../sign.ts";
import { nextWithin } from "../time/zone.ts";
import type { Delivery } from "./delivery.ts";
import type { AlarmMatter } from "./matter.ts";
import { obstacleOf, type TellPath, type TellPerson } from "./recipients.ts";
import { type Hold } from "./tell-decision.ts";

/** Everything that one decision rests on. */
export interface Question {
  readonly matter: AlarmMatter;
  readonly person: TellPerson;
  readonly path: TellPath;
  readonly last: Delivery | null;
  readonly now: number;
  readonly limits: WatchLimits;
}

/** A path that does not say what stops it is stopped by either. */
export function stopsWhen(path: TellPath, event: "acknowledged" | "cleared"): boolean {
  return path.until === undefined || path.until.length === 0 || path.until.includes(event);
}

/** 0 for those who are told first, then the rungs of the ladder; −1 for somebody who is not on the path. */
export function rungOf(person: TellPerson, path: TellPath): number {
  if (path.to.includes(person.id)) return 0;
  const at = (path.ladder ?? []).findIndex(({ to }) => to.includes(person.id));
  return at === -1 ? -1 : at + 1;
}

/** Interval of repeats of a path; less than a minute would be a flood. */
export function pathIntervalMs(path: TellPath, limits: WatchLimits): number {
  return Math.max(1, path.repeatEveryMin ?? limits.repeatMin.value) * MINUTE;
}

export function intervalMs(alarms: readonly Alarm[], path: TellPath, limits: WatchLimits): number {
  const each = alarms.map(({ sign }) =>
    SIGNS[sign].repeats === "daily" ? limits.upkeepRepeatMin.value * MINUTE : pathIntervalMs(path, limits),
  );
  return Math.min(...each);
}

/** Until when the acknowledgement of an alarm holds; null without one. */
export function answerHoldsUntil({ acknowledged }: Alarm, limits: WatchLimits): number | null {
  return acknowledged === null ? null : acknowledged.at + limits.acknowledgementHoldsH.value * HOUR;
}

export function wasTold({ last }: Question, { id, occurrence }: Alarm): boolean {
  return last?.told.some((told) => told.alarm === id && told.occurrence >= occurrence) ?? false;
}

/** A delivery dated well ahead of now comes from a wrong clock and must not hold anything back. */
export function lastSentAt({ last, now, limits }: Question): number | null {
  if (last === null) return null;
  return last.at > now + limits.clockAheadMin.value * MINUTE ? -Infinity : last.at;
}

/** Nobody, or nothing, stands between the message and the person; or the hold that does. */
export function personHold(
  person: TellPerson,
  path: TellPath,
  now: number,
  lookAfterMs: number,
): { readonly hold: Hold; readonly text: string } | null {
  const obstacle = obstacleOf(person, now);
  if (obstacle === null || (path.disregards?.includes(obstacle.kind) ?? false)) return null;
  const untilAt = obstacle.untilAt ?? now + lookAfterMs;
  return { hold: { because: obstacle.kind, by: null, untilAt }, text: obstacle.text };
}

/** When this person reads next, where that is not now; null where it is now or is not known. */
export function readsNextAt(person: TellPerson, now: number): number | null {
  const next = nextWithin(person.reads ?? [], now, person.zone);
  return next === null || next <= now ? null : next;
}
