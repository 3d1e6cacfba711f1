import { listed } from "../grounds.ts";
import { WATCH_LIMITS, type WatchLimits } from "../limits.ts";
import { SIGNS } from "../sign.ts";
import { groupBy } from "./group-by.ts";
import {
  atMost,
  compare,
  groupAlarms,
  groupHeading,
  type StormAlarm,
  type StormGroup,
} from "./storm-group.ts";

/** A message that `shouldTell` has decided to send to one person. */
export interface PendingMessage {
  readonly person: string;
  readonly site: string;
  /** The key of the message: its delivery is recorded when the message that covers it is handed over. */
  readonly key: string;
  /** What it tells of, all of that site. */
  readonly alarms: readonly [StormAlarm, ...StormAlarm[]];
}

/** A message that goes out: one decided message, or many in one. */
export interface PlannedMessage {
  readonly person: string;
  readonly heading: string;
  /** One line for each site. */
  readonly lines: readonly string[];
  readonly sites: readonly string[];
  /** Keys of the decided messages that it covers; together they name it, whatever the order they came in. */
  readonly covers: readonly string[];
}

/**
 * What is sent when this many messages were decided in one round: each by itself while a person can read them one by one,
 * in groups beyond that. Earth faults come first and are not mixed with silent paths and detectors. Nobody gets more
 * messages than the limit, and everybody hears of every site they were to hear of.
 */
export function planMessages(
  pending: readonly PendingMessage[],
  limits: WatchLimits = WATCH_LIMITS,
): readonly PlannedMessage[] {
  const byPerson = groupBy(pending, ({ person }) => person);
  return [...byPerson]
    .sort(([one], [other]) => compare(one, other))
    .flatMap(([person, own]) => planFor(person, own, limits));
}

function planFor(
  person: string,
  pending: readonly PendingMessage[],
  limits: WatchLimits,
): readonly PlannedMessage[] {
  const room = Math.max(2, limits.messagesPerRound.value);
  const sorted = pending.toSorted((one, other) => compare(one.key, other.key));
  const faults = sorted.filter(tellsOfFault);
  const upkeep = sorted.filter((one) => !tellsOfFault(one));
  if (sorted.length <= room) return [...faults, ...upkeep].map((one) => planned(person, singly(one), [one]));
  const faultGroups = atMost(groupsOf(faults, limits), room - (upkeep.length > 0 ? 1 : 0));
  const upkeepGroups = atMost(groupsOf(upkeep, limits), room - faultGroups.length);
  return [
    ...faultGroups.map((group) => planned(person, group, faults)),
    ...upkeepGroups.map((group) => planned(person, group, upkeep)),
  ];
}

function tellsOfFault({ alarms }: PendingMessage): boolean {
  return alarms.some(({ sign }) => SIGNS[sign].opensCase);
}

function groupsOf(pending: readonly PendingMessage[], limits: WatchLimits): readonly StormGroup[] {
  return groupAlarms(
    pending.flatMap(({ site, alarms }) => alarms.map((alarm) => ({ ...alarm, site }))),
    limits,
  );
}

function singly({ site, alarms }: PendingMessage): StormGroup {
  return { cause: { kind: "site", site }, sites: [site], alarms };
}

/** @param candidates  decided messages of which the group covers those of its sites */
function planned(person: string, group: StormGroup, candidates: readonly PendingMessage[]): PlannedMessage {
  const sites = new Set(group.sites);
  const titles = groupBy(group.alarms, ({ site }) => site);
  return {
    person,
    heading: groupHeading(group),
    lines: group.sites.map((site) => {
      const kinds = new Set((titles.get(site) ?? []).map(({ sign }) => SIGNS[sign].title));
      return `${site}: ${listed([...kinds])}`;
    }),
    sites: group.sites,
    covers: candidates.filter(({ site }) => sites.has(site)).map(({ key }) => key),
  };
}
