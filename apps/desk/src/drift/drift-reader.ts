import {
  FLEET_TRAITS,
  fleetSteps,
  type FleetArray,
  type FleetFinding,
  type FleetTrait,
  type HistoryFinding,
  readHistory,
  type Site,
} from "@earthbell/engine";
import type { ArrayLimits } from "@earthbell/model";
import type { Clock } from "../clock.ts";
import { othersFirst, type Seen, sitePortions } from "../overview/bound-to.ts";
import { siteNamesOf } from "../overview/site-names.ts";
import type { DeskStore } from "../store/index.ts";
import { historyContext, storedSeries } from "./stored-series.ts";

/** Answers after this long with what is known by then; the next question goes on from there [ms]. */
const BUDGET_MS = 1500;
/** A device that is polled has a newer reading each minute; what its mornings say does not change as fast [ms]. */
const HOLDS_MS = 30 * 60_000;
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
  readonly traits: Readonly<Partial<Record<FleetTrait, string>>>;
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

/** What a site file says of its arrays. */
interface FileRead {
  readonly digest: string;
  readonly limits: Readonly<Record<string, ArrayLimits>>;
  /** By the id of the array. */
  readonly traits: Readonly<Record<string, Heard["traits"]>>;
}

/** The insulation history of the whole fleet, worked out a portion at a time and kept by each array's newest reading. */
export class DriftReader {
  readonly #known = new Map<string, Known>();
  readonly #files = new Map<string, FileRead>();
  /** Counts what was worked out. */
  #worked = 0;
  #last: { readonly worked: number; readonly arrays: number; readonly fleet: FleetFinding } | null = null;

  constructor(
    private readonly store: DeskStore,
    private readonly clock: Pick<Clock, "now">,
  ) {}

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
    const due = heard.filter((one) => this.#isDue(one, begun));
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

  #isDue({ key, digest, newestAt }: Heard, now: number): boolean {
    const known = this.#known.get(key);
    if (known?.digest !== digest) return true;
    return known.newestAt !== newestAt && now - known.workedOutAt >= HOLDS_MS;
  }

  async #workOut({ key, site, array, digest, newestAt, limits }: Heard): Promise<void> {
    const series = await storedSeries(this.store, site, array, limits.zone);
    const { finding } = readHistory({ ...series, array: key }, historyContext(limits));
    this.#worked += 1;
    this.#known.set(key, { digest, newestAt, workedOutAt: this.clock.now(), finding });
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
      await this.#readFiles(ids);
      for (const { site, array_id: array, at } of newest) {
        const file = this.#files.get(site);
        const limits = file?.limits[array];
        if (file === undefined || limits === undefined) continue;
        const { digest } = file;
        const traits = file.traits[array] ?? { site };
        heard.push({ key: `${site}/${array}`, site, array, digest, newestAt: at, limits, traits });
      }
    }
    return heard;
  }

  /** Reads the files that have changed since they were last read. */
  async #readFiles(sites: readonly string[]): Promise<void> {
    const { db } = this.store;
    const rows = await db.selectFrom("site").select(["id", "digest"]).where("id", "in", sites).execute();
    const changed = rows.flatMap(({ id, digest }) => (this.#files.get(id)?.digest === digest ? [] : [id]));
    if (changed.length === 0) return;
    const files = await db
      .selectFrom("site")
      .select(["id", "digest", "site_json", "limits_json"])
      .where("id", "in", changed)
      .execute();
    for (const { id, digest, site_json, limits_json } of files) {
      const site = JSON.parse(site_json) as Site;
      const traits = Object.fromEntries(
        site.arrays.map((one) => [one.id, { site: id, ...traitsOf(site, one.id) }]),
      );
      const limits = JSON.parse(limits_json) as Record<string, ArrayLimits>;
      this.#files.set(id, { digest, limits, traits });
    }
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

/** What the site file says that arrays may have in common. */
function traitsOf({ arrays, place }: Site, id: string): Readonly<Partial<Record<FleetTrait, string>>> {
  const array = arrays.find((one) => one.id === id);
  const region = place.region === undefined ? place.country : `${place.country} ${place.region}`;
  return { ...(array === undefined ? {} : { module: array.module }), place: region };
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
