import {
  FLEET_TRAITS,
  fleetSteps,
  type FleetArray,
  type FleetFinding,
  type HistoryFinding,
  type RankedArray,
  rankedOf,
  readHistory,
} from "@earthbell/engine";
import type { ArrayLimits } from "@earthbell/model";
import type { Clock } from "../clock.ts";
import type { Log } from "../log.ts";
import { othersFirst } from "../others-first.ts";
import { type Seen, sitePortions } from "../overview/bound-to.ts";
import { siteNamesOf } from "../overview/site-names.ts";
import type { DeskStore } from "../store/index.ts";
import { ArrayFiles, type ArrayTraits } from "./array-files.ts";
import { historyContext, storedSeries } from "./stored-series.ts";

/** Answers after this long with what is known by then; the next question goes on from there [ms]. */
const BUDGET_MS = 1500;
/** A device that is polled has a newer reading each minute; what its mornings say does not change as fast [ms]. */
const HOLDS_MS = 30 * 60_000;
/** Unasked an array is read this often: it has one morning a day, and the watch sees at once what falls below a limit [ms]. */
const UNASKED_HOLDS_MS = 12 * 3_600_000;
const LOOK_EVERY_MS = 60_000;
/** The same while no array has been heard yet: a desk that has just been set up is being looked at [ms]. */
const LOOK_AT_FIRST_MS = 5000;
/** Unasked, this many times as long as a reading took the processor is left to the rest. */
const REST_SHARE = 9;
/** Arrays of the ranking that are answered. */
const MOST_RANKED = 300;
/** Groups that are answered, those that stand out most. */
const MOST_GROUPS = 50;
/** Sites that are read before other work of the desk gets its turn. */
const AT_ONCE = 500;

/** What is known of an array, by what it was worked out from. */
interface Known {
  readonly digest: string;
  readonly newestAt: number;
  readonly workedOutAt: number;
  readonly finding: HistoryFinding;
}

/** An array whose insulation was heard at least once. */
interface Heard {
  readonly key: string;
  readonly site: string;
  readonly array: string;
  readonly digest: string;
  readonly newestAt: number;
  readonly limits: ArrayLimits;
  readonly traits: ArrayTraits;
}

export interface Drift {
  /** Arrays whose history has still to be worked out. */
  readonly pending: number;
  readonly fleet: FleetFinding;
  /** Groups that were compared beyond those that are named. */
  readonly moreGroups: number;
  /** Names of the sites in the ranking, by their ids. */
  readonly names: Readonly<Record<string, string>>;
}

/** The insulation history of the whole fleet, worked out a portion at a time and kept by each array's newest reading. */
export class DriftReader {
  readonly #known = new Map<string, Known>();
  readonly #files: ArrayFiles;
  /** Arrays that are worth a visit, by what was last worked out. */
  readonly #due = new Map<string, RankedArray>();
  #isRead = false;
  /** Counts what was worked out. */
  #worked = 0;
  #last: { readonly worked: number; readonly arrays: number; readonly fleet: FleetFinding } | null = null;

  constructor(
    private readonly store: DeskStore,
    private readonly clock: Clock,
  ) {
    this.#files = new ArrayFiles(store);
  }

  /** Arrays that are worth a visit by `site/array`, as far as is known: nothing is worked out for whoever asks. */
  get due(): ReadonlyMap<string, RankedArray> {
    return this.#due;
  }

  /** Every history has been read at least once. */
  get isRead(): boolean {
    return this.#isRead;
  }

  /** Keeps what is known of the fleet up to date, a little at a time, until aborted. */
  async run(log: Log, signal: AbortSignal): Promise<void> {
    while (!signal.aborted) {
      let heard = 0;
      try {
        heard = await this.workOutDue(signal);
      } catch (error) {
        log.error({ error: String(error) }, "the insulation histories could not be read; tried again soon");
      }
      await this.clock.pause(heard === 0 ? LOOK_AT_FIRST_MS : LOOK_EVERY_MS, signal);
    }
  }

  /**
   * Works out every array that has changed or has not been looked at for half a day, and forgets those that are gone.
   *
   * @returns how many arrays are heard
   */
  async workOutDue(signal: AbortSignal): Promise<number> {
    const heard = await this.#heard(null);
    const keys = new Set(heard.map(({ key }) => key));
    for (const known of [this.#known, this.#due])
      for (const key of known.keys()) if (!keys.has(key)) known.delete(key);
    for (const one of heard) {
      if (signal.aborted) return heard.length;
      const began = this.clock.now();
      if (!this.#isDue(one, began, UNASKED_HOLDS_MS)) continue;
      await this.#workOut(one);
      await this.clock.pause(REST_SHARE * (this.clock.now() - began), signal);
    }
    this.#isRead = true;
    return heard.length;
  }

  /**
   * @param seen   sites that may be shown, and compared with one another
   * @param table  what arrays are beyond their site files, by `site/array`
   */
  async read(
    seen: Seen,
    by: "weight" | "days",
    table: ReadonlyMap<string, Readonly<Record<string, string>>>,
  ): Promise<Drift> {
    const heard = await this.#heard(seen);
    const begun = this.clock.now();
    const due = heard.filter((one) => this.#isDue(one, begun, HOLDS_MS));
    let done = 0;
    for (const one of due) {
      if (this.clock.now() - begun > BUDGET_MS) break;
      await this.#workOut(one);
      done += 1;
      await othersFirst();
    }
    const arrays = heard.flatMap((one) => {
      const known = this.#known.get(one.key);
      return known === undefined ? [] : [fleetArray(known.finding, one, table.get(one.key) ?? {})];
    });
    const { groups, ...fleet } = ranked(await this.#fleetOf(arrays, seen === null && table.size === 0), by);
    const sites = fleet.ranking.flatMap(({ site }) => site ?? []);
    return {
      pending: due.length - done,
      fleet: { ...fleet, groups: groups.slice(0, MOST_GROUPS) },
      moreGroups: Math.max(0, groups.length - MOST_GROUPS),
      names: await siteNamesOf(this.store.db).namesOf(sites),
    };
  }

  /** @param isWhole  every array of the desk, by what its own file says: compared once for all who ask, until one is worked out anew */
  async #fleetOf(arrays: readonly FleetArray[], isWhole: boolean): Promise<FleetFinding> {
    const worked = this.#worked;
    if (isWhole && this.#last?.worked === worked && this.#last.arrays === arrays.length)
      return this.#last.fleet;
    const fleet = await fleetInTurns(arrays);
    if (isWhole) this.#last = { worked, arrays: arrays.length, fleet };
    return fleet;
  }

  #isDue({ key, digest, newestAt }: Heard, now: number, holdsMs: number): boolean {
    const known = this.#known.get(key);
    if (known?.digest !== digest) return true;
    return known.newestAt !== newestAt && now - known.workedOutAt >= holdsMs;
  }

  async #workOut({ key, site, array, digest, newestAt, limits, traits }: Heard): Promise<void> {
    const series = await storedSeries(this.store, site, array, limits.zone);
    const { finding } = readHistory({ ...series, array: key }, historyContext(limits));
    this.#worked += 1;
    this.#known.set(key, { digest, newestAt, workedOutAt: this.clock.now(), finding });
    const ranked = rankedOf({ finding, traits });
    if (ranked.visit === null) this.#due.delete(key);
    else this.#due.set(key, ranked);
  }

  async #heard(seen: Seen): Promise<readonly Heard[]> {
    const heard: Heard[] = [];
    for await (const { ids, own } of sitePortions(this.store.db, seen, AT_ONCE)) {
      const newest = await this.store.db
        .selectFrom("last_known")
        .select((of) => ["site", "array_id", of.fn.max<number>("received_at").as("at")])
        .where("kind", "=", "insulation")
        .where("array_id", "!=", "")
        .where(own)
        .groupBy(["site", "array_id"])
        .execute();
      await this.#files.read(ids);
      const watched = new Set(ids);
      for (const { site, array_id: array, at } of newest) {
        // What was heard of a site that is not watched any more stays in the store.
        if (!watched.has(site)) continue;
        const file = this.#files.of(site);
        const limits = file?.limits[array];
        if (file === undefined || limits === undefined) continue;
        const { digest } = file;
        const traits = file.traits[array] ?? { site };
        heard.push({ key: `${site}/${array}`, site, array, digest, newestAt: at, limits, traits });
      }
    }
    return heard;
  }
}

async function fleetInTurns(arrays: readonly FleetArray[]): Promise<FleetFinding> {
  const steps = fleetSteps(arrays);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
    await othersFirst();
  }
}

function fleetArray(
  finding: HistoryFinding,
  { traits }: Heard,
  row: Readonly<Record<string, string>>,
): FleetArray {
  const own = Object.fromEntries(
    FLEET_TRAITS.flatMap((trait) => (row[trait] === undefined ? [] : [[trait, row[trait]]])),
  );
  const { consequence } = row;
  return {
    finding,
    traits: { ...traits, ...own },
    ...(consequence === undefined ? {} : { consequence: Number(consequence) }),
  };
}

/** By weight: chance within a year times consequence. By days: who is at the threshold first. */
function ranked(fleet: FleetFinding, by: "weight" | "days"): FleetFinding {
  const order =
    by === "weight"
      ? fleet.ranking
      : fleet.ranking.toSorted((a, b) => (a.days ?? 1e9) - (b.days ?? 1e9) || b.weight - a.weight);
  return { ...fleet, ranking: order.slice(0, MOST_RANKED) };
}
