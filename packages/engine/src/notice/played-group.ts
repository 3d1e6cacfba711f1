import type { Group, Member, Scenario } from "./signal-plan.ts";
import { type StateMix, stateMix } from "./state-mix.ts";

/** A channel that puts a member in play, within the lags. */
export interface Tier {
  readonly heeds: number;
  readonly lag: number;
  /** Index of the first lag after it. */
  readonly begins: number;
  /** Where to find what the watcher has not noticed by its lag. */
  readonly unseen: Float64Array;
  readonly index: number;
}

export interface PlayedMember {
  readonly watcher: number;
  readonly tiers: readonly Tier[];
}

/** A scenario along the lags: from `begins` somebody may notice, from `settles` everything delivered is. */
export interface PlayedScenario {
  readonly share: number;
  readonly members: readonly PlayedMember[];
  readonly begins: number;
  readonly settles: number;
  /** Everything is delivered at the detection. */
  readonly atOnce: boolean;
  /** Each member, once the scenario has settled, is never + slope · unseen; padded by members that are 1. */
  readonly never: Float64Array;
  /** Written anew after each detection, but for what is delivered at once. */
  readonly slope: Float64Array;
}

/** A group along the lags, with what is the same after every detection worked out. */
export interface PlayedGroup {
  /** Survival after the detection last followed. */
  readonly survival: Float64Array;
  /** Survival at each lag from the floor and the scenarios not yet begun. */
  readonly waiting: Float64Array;
  /** In the order in which they settle. */
  readonly scenarios: readonly PlayedScenario[];
  /** Where there are as many states as sets of members. */
  readonly mix: StateMix | null;
  /** For each member its survival of the watcher by lag; padded as those of a scenario are. */
  readonly unseen: readonly Float64Array[];
}

/** Index of the first of a rising list of lags that is greater than a lag; 0 for no lag. */
function indexAt(lags: Float64Array, lag: number): number {
  if (lag <= 0) return 0;
  const index = lags.findIndex((one) => one > lag);
  return index < 0 ? lags.length : index;
}

/** Along which lags the watchers are followed, and where what each has not noticed by them is found. */
export interface Grid {
  readonly lags: Float64Array;
  readonly byLag: readonly Float64Array[];
  /** Of each watcher the rising lags at which something is delivered to it and that are not among the others. */
  readonly deliveries: readonly Float64Array[];
  readonly byDelivery: readonly Float64Array[];
}

export function gridOf(lags: Float64Array, watchers: number, groups: readonly Group[]): Grid {
  const between = Array.from({ length: watchers }, () => new Set<number>());
  for (const { scenarios } of groups)
    for (const { members } of scenarios)
      for (const { watcher, lags: own } of members)
        for (const lag of own) if (lag < Infinity && !lags.includes(lag)) between[watcher]!.add(lag);
  const deliveries = between.map((own) => Float64Array.from(own).sort());
  return {
    lags,
    byLag: deliveries.map(() => new Float64Array(lags.length)),
    deliveries,
    byDelivery: deliveries.map((own) => new Float64Array(own.length)),
  };
}

function playedMember({ watcher, heeds, lags: own }: Member, grid: Grid): PlayedMember {
  const tiers = own.map((lag, i): Tier => {
    const common = grid.lags.indexOf(lag);
    return {
      heeds: heeds[i]!,
      lag,
      begins: indexAt(grid.lags, lag),
      unseen: common < 0 ? grid.byDelivery[watcher]! : grid.byLag[watcher]!,
      index: common < 0 ? grid.deliveries[watcher]!.indexOf(lag) : common,
    };
  });
  return { watcher, tiers: tiers.filter(({ begins }) => begins < grid.lags.length) };
}

/** Room for a value a member, to a multiple of four: products of members are taken by four. */
const padded = (members: number): Float64Array => new Float64Array(4 * Math.ceil(members / 4));

function playedScenario({ weight, members }: Scenario, floor: number, grid: Grid): PlayedScenario {
  const { length } = grid.lags;
  const played = members.map((member) => playedMember(member, grid));
  const tiers = played.flatMap((member) => member.tiers);
  const never = padded(members.length).fill(1);
  const slope = padded(members.length);
  played.forEach((member, j) => {
    const heeded = member.tiers.reduce((sum, { heeds }) => sum + heeds, 0);
    never[j] = Math.max(0, 1 - heeded);
    slope[j] = heeded;
  });
  return {
    share: (1 - floor) * weight,
    members: played,
    begins: tiers.reduce((least, { begins }) => Math.min(least, begins), length),
    settles: tiers.length === 0 ? length : tiers.reduce((most, { begins }) => Math.max(most, begins), 0),
    atOnce: tiers.every(({ lag }) => lag === 0),
    never,
    slope,
  };
}

export function playedGroup({ scenarios, floor }: Group, grid: Grid): PlayedGroup {
  const { lags, byLag } = grid;
  const played = scenarios.map((scenario) => playedScenario(scenario, floor, grid));
  const waiting = new Float64Array(lags.length).fill(floor);
  for (const { share, begins } of played) for (let k = 0; k < begins; k++) waiting[k]! += share;
  const members = scenarios[0]!.members;
  return {
    survival: new Float64Array(lags.length),
    waiting,
    scenarios: played.filter(({ begins }) => begins < lags.length).sort((a, b) => a.settles - b.settles),
    mix: 2 ** members.length <= scenarios.length ? stateMix(members.length) : null,
    unseen: Array.from(padded(members.length), (_, j) => byLag[(members[j] ?? members[0]!).watcher]!),
  };
}
