import { instantText } from "../grounds.ts";
import { WATCH_LIMITS, type WatchLimits } from "../limits.ts";
import { MINUTE } from "../time/span.ts";
import type { SignKind } from "../sign.ts";
import { groupBy } from "./group-by.ts";

/** An alarm as a storm sees it, with what hints at a cause that it shares with others. */
export interface StormAlarm {
  readonly id: string;
  readonly site: string;
  readonly sign: SignKind;
  /** Start of the latest occurrence. */
  readonly at: number;
  readonly gateway: string | null;
  readonly region: string | null;
}

export type SharedCause =
  | { readonly kind: "gateway"; readonly gateway: string }
  | { readonly kind: "region-and-minute"; readonly region: string; readonly minuteAt: number }
  | { readonly kind: "minute"; readonly minuteAt: number }
  | { readonly kind: "site"; readonly site: string }
  /** What was put together only to keep the number of messages small. */
  | { readonly kind: "rest" };

export interface StormGroup {
  readonly cause: SharedCause;
  readonly sites: readonly string[];
  readonly alarms: readonly StormAlarm[];
}

/** More alarms within the window before `now` than a person can follow one by one. */
export function isFlood(
  startedAt: readonly number[],
  now: number,
  limits: WatchLimits = WATCH_LIMITS,
): boolean {
  const since = now - limits.floodWindowMin.value * MINUTE;
  return startedAt.filter((at) => at >= since && at <= now).length > limits.floodAlarms.value;
}

function minuteOf({ at }: StormAlarm): number {
  return Math.floor(at / MINUTE) * MINUTE;
}

/** Hints from the most to the least telling; null where the alarm gives no such hint. */
const HINTS: readonly ((alarm: StormAlarm) => SharedCause | null)[] = [
  ({ gateway }) => (gateway === null ? null : { kind: "gateway", gateway }),
  (alarm) =>
    alarm.region === null
      ? null
      : { kind: "region-and-minute", region: alarm.region, minuteAt: minuteOf(alarm) },
  (alarm) => ({ kind: "minute", minuteAt: minuteOf(alarm) }),
];

/**
 * Puts alarms into groups that one message can tell: the sites behind one gateway, the sites of a region within one minute,
 * the sites within one minute, else each site by itself. A site goes as a whole, by the hint of its first alarm, so that
 * every alarm is in exactly one group. A shared cause is a hint and not a finding. The order of the input does not matter.
 */
export function groupAlarms(
  alarms: readonly StormAlarm[],
  limits: WatchLimits = WATCH_LIMITS,
): readonly StormGroup[] {
  let waiting = sitesOf(alarms);
  const groups: StormGroup[] = [];
  for (const hint of HINTS) {
    const byCause = groupBy(waiting, ({ alarms: [first] }) => JSON.stringify(hint(first!)));
    waiting = [];
    for (const sites of byCause.values()) {
      const cause = hint(sites[0]!.alarms[0]!);
      if (cause === null || sites.length < limits.commonCauseSites.value) waiting.push(...sites);
      else groups.push(groupOf(cause, sites));
    }
  }
  return [...groups, ...waiting.map((site) => groupOf({ kind: "site", site: site.site }, [site]))];
}

interface SiteAlarms {
  readonly site: string;
  /** By start, then by id. */
  readonly alarms: readonly StormAlarm[];
}

function sitesOf(alarms: readonly StormAlarm[]): SiteAlarms[] {
  const sorted = alarms.toSorted((one, other) => one.at - other.at || compare(one.id, other.id));
  const bySite = groupBy(sorted, ({ site }) => site);
  return [...bySite]
    .map(([site, own]) => ({ site, alarms: own }))
    .sort((one, other) => compare(one.site, other.site));
}

export function compare(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}

function groupOf(cause: SharedCause, sites: readonly SiteAlarms[]): StormGroup {
  return { cause, sites: sites.map(({ site }) => site), alarms: sites.flatMap((site) => site.alarms) };
}

/**
 * As many groups as there is room for: the largest stay, the smaller ones become one group.
 *
 * @param room  at least 1
 */
export function atMost(groups: readonly StormGroup[], room: number): readonly StormGroup[] {
  if (groups.length <= room) return groups;
  const largestFirst = groups.toSorted((one, other) => other.sites.length - one.sites.length);
  const rest = largestFirst.slice(room - 1);
  const together: StormGroup = {
    cause: { kind: "rest" },
    sites: rest.flatMap(({ sites }) => sites),
    alarms: rest.flatMap(({ alarms }) => alarms),
  };
  return [...largestFirst.slice(0, room - 1), together];
}

/** What a group has in common, as the first line of its message. */
export function groupHeading({ cause, sites }: StormGroup): string {
  const count = sites.length === 1 ? "1 site" : `${sites.length} sites`;
  switch (cause.kind) {
    case "gateway":
      return `${count} behind gateway ${cause.gateway}, which may be the common cause`;
    case "region-and-minute":
      return `${count} in ${cause.region} within the minute of ${instantText(cause.minuteAt)}: look for a common cause`;
    case "minute":
      return `${count} within the minute of ${instantText(cause.minuteAt)}: look for a common cause`;
    case "site":
      return cause.site;
    case "rest":
      return `${count} with nothing in common that is known`;
  }
}
