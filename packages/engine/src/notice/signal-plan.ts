import type { Watcher } from "./attention.ts";
import type {
  MessageChannel,
  NoticeChannel,
  NoticeModel,
  NoticeVariant,
  SiteChannel,
} from "./notice-model.ts";
import { deliveryLag, linkStates } from "./outage.ts";
import type { Watch } from "./watch.ts";

/**
 * One member of a group in one state of its common cause: which watcher, and how likely it heeds only its most
 * compelling channel, the two most compelling, and so on, each with the lag from which that puts it in play. What is
 * left of 1 heeds none. Survival: 1 − Σ heeds · (1 − exp(−hazard since the lag)).
 */
export interface Member {
  readonly watcher: number;
  readonly heeds: readonly number[];
  readonly lags: readonly number[];
}

/** One state of the group's common cause: how likely, and its members. */
export interface Scenario {
  readonly weight: number;
  readonly members: readonly Member[];
}

/**
 * Watchers that share a common cause. Survival of the group: floor + (1 − floor) · Σ weight · Π member.
 */
export interface Group {
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

/** JSON has no infinity. */
const neverAsWord = (_: string, value: unknown): unknown => (value === Infinity ? "never" : value);

/** A group in which scenarios that are alike are one. */
function groupOf(states: readonly Scenario[], floor: number): Group {
  const alike = new Map<string, { weight: number; readonly members: readonly Member[] }>();
  for (const { weight, members } of states) {
    if (weight <= 0) continue;
    const key = JSON.stringify(members, neverAsWord);
    const known = alike.get(key);
    if (known) known.weight += weight;
    else alike.set(key, { weight, members });
  }
  return { scenarios: [...alike.values()], floor };
}

interface Reader {
  readonly watcher: number;
  /** The channels that tell this reader, the most compelling first. */
  readonly channels: readonly MessageChannel[];
}

/** Probabilities of heeding the first channel only, the first two, …; equals are heeded together. */
function heedsOf({ channels }: Reader): readonly number[] {
  const levels = [...new Set(channels.map(({ neverHeeds }) => neverHeeds))];
  return levels.map((never, i) => (levels[i + 1] ?? 1) - never);
}

function lagsOf({ channels }: Reader, lagOf: ReadonlyMap<MessageChannel, number>): readonly number[] {
  const levels = [...new Set(channels.map(({ neverHeeds }) => neverHeeds))];
  return levels.map((never) => {
    const heeded = channels.filter(({ neverHeeds }) => neverHeeds <= never);
    return Math.min(...heeded.map((channel) => lagOf.get(channel) ?? Infinity));
  });
}

/** The readers of all messages of a combination, each once, on the links they share. */
function messageGroup(
  model: NoticeModel,
  channels: readonly MessageChannel[],
  watcherOf: (readerId: string) => number | undefined,
): Group {
  const compelling = [...channels].sort((a, b) => a.neverHeeds - b.neverHeeds);
  const readers = [...new Set(channels.flatMap((channel) => channel.readers))].flatMap((id): Reader[] => {
    const watcher = watcherOf(id);
    const own = compelling.filter((channel) => channel.readers.includes(id));
    return watcher === undefined ? [] : [{ watcher, channels: own }];
  });
  const states = jointStates(model, channels).map(({ weight, lagOf }) => ({
    weight,
    members: readers.map((reader) => ({
      watcher: reader.watcher,
      heeds: heedsOf(reader),
      lags: lagsOf(reader, lagOf),
    })),
  }));
  return groupOf(states, 0);
}

/** Sounders, beacons and lights of a combination: an empty site silences them together, ignorance too. */
function siteGroup(
  model: NoticeModel,
  channels: readonly SiteChannel[],
  watcherOf: (channelId: string) => number | undefined,
): Group {
  const membersFrom = (lag: number): Member[] =>
    channels.flatMap((channel) => {
      const watcher = watcherOf(channel.id);
      return watcher === undefined ? [] : [{ watcher, heeds: [1 - channel.dead], lags: [lag] }];
    });
  const { share, lengthMin } = model.siteEmpty;
  const states = [
    { weight: 1 - share, members: membersFrom(0) },
    { weight: share, members: membersFrom(lengthMin) },
  ];
  return groupOf(states, model.unaware);
}

/** The groups that combinations of channels are made of, each once; survivals of a combination's groups multiply. */
export interface SignalPlan {
  readonly watchers: readonly Watcher[];
  readonly groups: readonly Group[];
  /** Indices into `groups`, one list a combination; an empty list never notices. */
  readonly combinations: readonly (readonly number[])[];
  /** For each variant asked, the index of each of its combinations. */
  readonly asked: readonly (readonly number[])[];
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
  ].filter(({ scenarios }) => scenarios.some(({ members }) => members.length > 0));
}

/** Things in the order in which they are first met, each once. */
class Once<Thing> {
  readonly list: Thing[] = [];
  private readonly known = new Map<string, number>();

  indexOf(thing: Thing): number {
    const key = JSON.stringify(thing, neverAsWord);
    const index = this.known.get(key) ?? this.list.push(thing) - 1;
    this.known.set(key, index);
    return index;
  }
}

/** Plan the survivals of combinations of channels; a group that several combinations hold is worked out once. */
export function signalPlan(variants: readonly NoticeVariant[], { watchers, indexOf }: Watch): SignalPlan {
  const groups = new Once<Group>();
  const combinations = new Once<readonly number[]>();
  const asked = variants.map(({ model, combinations: wanted }, v) =>
    wanted.map((ids) => {
      const channels = model.channels.filter((channel) => ids.includes(channel.id));
      return combinations.indexOf(
        groupsOf(model, channels, indexOf[v]!).map((group) => groups.indexOf(group)),
      );
    }),
  );
  return { watchers, groups: groups.list, combinations: combinations.list, asked };
}
