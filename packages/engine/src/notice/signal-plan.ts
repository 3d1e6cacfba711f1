import type { ActiveSpans } from "./active-spans.ts";
import type { MessageChannel, NoticeChannel, NoticeModel, SiteChannel } from "./notice-model.ts";
import { deliveryLag, linkStates } from "./outage.ts";

/** Somebody, or something on site, that notices at a rate while active. */
export interface Watcher {
  readonly spans: ActiveSpans;
  readonly perMinute: number;
}

/** One member of a group: which watcher, and the probability that it never notices. */
export interface Member {
  readonly watcher: number;
  readonly never: number;
}

/** One state of the group's common cause: how likely, and from which lag each member is in play. */
export interface Scenario {
  readonly weight: number;
  readonly lags: readonly number[];
}

/**
 * Members that share a common cause. Survival of the group:
 * floor + (1 − floor) · Σ weight · Π (never + (1 − never) · exp(−hazard since the member's lag)).
 */
export interface Group {
  readonly members: readonly Member[];
  readonly scenarios: readonly Scenario[];
  readonly floor: number;
}

/** Messages over a third independent link are not counted, so that the joint states stay few: the cautious side. */
const MOST_LINKS = 2;

interface JointState {
  readonly weight: number;
  readonly lagOf: ReadonlyMap<MessageChannel, number>;
}

function jointStates(model: NoticeModel, channels: readonly MessageChannel[]): readonly JointState[] {
  const linkIds = [...new Set(channels.map((channel) => channel.link))].slice(0, MOST_LINKS);
  let joint: readonly JointState[] = [{ weight: 1, lagOf: new Map() }];
  for (const id of linkIds) {
    const link = model.links.find((candidate) => candidate.id === id);
    if (link === undefined) continue;
    const carried = channels.filter((channel) => channel.link === id);
    const states = linkStates(link).map((state) => ({
      weight: state.weight,
      lags: carried.map((channel) => [channel, deliveryLag(channel, state)] as const),
    }));
    joint = joint.flatMap((before) =>
      states.map((state) => ({
        weight: before.weight * state.weight,
        lagOf: new Map([...before.lagOf, ...state.lags]),
      })),
    );
  }
  return joint;
}

/** Scenarios that put every member in play at the same lags are one scenario. */
function mergedScenarios(scenarios: readonly Scenario[]): readonly Scenario[] {
  const byLags = new Map<string, Scenario>();
  for (const scenario of scenarios) {
    const key = scenario.lags.join();
    const weight = scenario.weight + (byLags.get(key)?.weight ?? 0);
    byLags.set(key, { weight, lags: scenario.lags });
  }
  return [...byLags.values()].filter((scenario) => scenario.weight > 0);
}

/** The readers of all messages of a combination, each once, on the links they share. */
export function messageGroup(
  model: NoticeModel,
  channels: readonly MessageChannel[],
  watcherOf: (readerId: string) => number | undefined,
): Group {
  const ids = [...new Set(channels.flatMap((channel) => channel.readers))];
  const readers = ids.filter((id) => watcherOf(id) !== undefined);
  const channelsOf = readers.map((id) => channels.filter((channel) => channel.readers.includes(id)));
  const members = readers.map((id, i) => ({
    watcher: watcherOf(id)!,
    never: Math.min(...channelsOf[i]!.map((channel) => channel.neverHeeds)),
  }));
  const scenarios = jointStates(model, channels).map(({ weight, lagOf }) => ({
    weight,
    lags: channelsOf.map((own) => Math.min(...own.map((channel) => lagOf.get(channel) ?? Infinity))),
  }));
  return { members, scenarios: mergedScenarios(scenarios), floor: 0 };
}

/** Sounders, beacons and lights of a combination: an empty site silences them together, ignorance too. */
export function siteGroup(
  model: NoticeModel,
  channels: readonly SiteChannel[],
  watcherOf: (channelId: string) => number | undefined,
): Group {
  const members = channels.flatMap((channel) => {
    const watcher = watcherOf(channel.id);
    return watcher === undefined ? [] : [{ watcher, never: channel.dead }];
  });
  const lags = (lag: number): number[] => members.map(() => lag);
  const { share, lengthMin } = model.siteEmpty;
  const scenarios = [
    { weight: 1 - share, lags: lags(0) },
    { weight: share, lags: lags(lengthMin) },
  ];
  return { members, scenarios: mergedScenarios(scenarios), floor: model.unaware };
}

/** The groups that combinations of channels are made of, each once; survivals of a combination's groups multiply. */
export interface SignalPlan {
  readonly watchers: readonly Watcher[];
  readonly groups: readonly Group[];
  /** Indices into `groups`, one list a combination; an empty list never notices. */
  readonly combinations: readonly (readonly number[])[];
}

function groupsOf(
  model: NoticeModel,
  channels: readonly NoticeChannel[],
  indexOf: ReadonlyMap<string, number>,
): readonly Group[] {
  const messages = channels.filter((channel) => channel.signal === "message");
  const onSite = channels.filter((channel) => channel.signal !== "message");
  return [
    ...(messages.length > 0 ? [messageGroup(model, messages, (id) => indexOf.get(`reader ${id}`))] : []),
    ...(onSite.length > 0 ? [siteGroup(model, onSite, (id) => indexOf.get(`channel ${id}`))] : []),
  ].filter((group) => group.members.length > 0);
}

/** Plan the survivals of combinations of channels; a group that several combinations hold is worked out once. */
export function signalPlan(
  model: NoticeModel,
  combinations: readonly (readonly string[])[],
  {
    watchers,
    indexOf,
  }: { readonly watchers: readonly Watcher[]; readonly indexOf: ReadonlyMap<string, number> },
): SignalPlan {
  const groups: Group[] = [];
  const known = new Map<string, number>();
  const indices = combinations.map((ids) =>
    groupsOf(
      model,
      model.channels.filter((channel) => ids.includes(channel.id)),
      indexOf,
    ).map((group) => {
      const key = JSON.stringify(group, (_, value: unknown) => (value === Infinity ? "never" : value));
      const index = known.get(key) ?? groups.push(group) - 1;
      known.set(key, index);
      return index;
    }),
  );
  return { watchers, groups, combinations: indices };
}
