import { FINDER_DEFAULTS, type ScenarioFault, type Visit } from "@earthbell/engine";

/** Where the learner says the damage is; null: nowhere. */
export type Guess = { readonly string: string; readonly at: number } | null;

export interface Effort {
  readonly openings: number;
  readonly minutes: number;
}

/** Half a module: a repair there finds the damage. */
const NEAR_ENOUGH = 0.5;

/** Connectors opened and minutes spent, by the costs the finder plans with. */
export function effortOf(visit: Visit): Effort {
  const lengths = new Map(visit.strings.map(({ id, modules }) => [id, modules]));
  const opened = new Set<string>();
  const isolated = new Set<string>();
  for (const { on, segment, isolated: off } of visit.readings) {
    for (const node of segment ?? [])
      if (node > 0 && node < (lengths.get(on) ?? 0)) opened.add(`${on} ${node}`);
    for (const id of off ?? []) isolated.add(id);
  }
  const { openConnector, isolateString, reading } = FINDER_DEFAULTS.costs;
  return {
    openings: opened.size,
    minutes: opened.size * openConnector + isolated.size * isolateString + visit.readings.length * reading,
  };
}

/**
 * The trade's other way: open the string in the middle, test both halves, go on with the bad one. Among N + 1 junctions and
 * ends that takes log₂(N + 1) openings, rounded up, each with a reading on both halves. Joined strings are parted first, by
 * halves too.
 */
export function halvingEffort({ strings }: Visit): Effort {
  const { openConnector, isolateString, reading } = FINDER_DEFAULTS.costs;
  const longest = Math.max(...strings.map(({ modules }) => modules));
  const openings = Math.ceil(Math.log2(longest + 1));
  const isolations = strings.length > 1 ? Math.ceil(Math.log2(strings.length)) : 0;
  const partings = isolations * (isolateString * Math.ceil(strings.length / 2) + 2 * reading);
  return { openings, minutes: openings * (openConnector + 2 * reading) + partings };
}

/** Whether a guess would lead the repair to a damaged place, or rightly to none. */
export function isRight(guess: Guess, faults: readonly ScenarioFault[]): boolean {
  if (guess === null) return faults.length === 0;
  return faults.some(
    (fault) => "at" in fault && fault.string === guess.string && Math.abs(fault.at - guess.at) <= NEAR_ENOUGH,
  );
}
