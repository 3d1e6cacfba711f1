import {
  FLEET_TRAITS,
  type FleetArray,
  type FleetFinding,
  type FleetTrait,
  type HistoryFinding,
  readFleet,
  readHistory,
  type Site,
} from "@earthbell/engine";
import type { ArrayLimits } from "@earthbell/model";
import type { Clock } from "../clock.ts";
import type { DeskStore } from "../store/index.ts";
import { historyContext, storedSeries } from "./stored-series.ts";

/** Answers after this long with what is known by then; the next question goes on from there [ms]. */
const BUDGET_MS = 1500;
/** A device that is polled has a newer reading each minute; what its mornings say does not change as fast [ms]. */
const HOLDS_MS = 30 * 60_000;
/** Arrays of the ranking that are answered. */
const MOST_RANKED = 300;

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
}

/** The insulation history of the whole fleet, worked out a portion at a time and kept by each array's newest reading. */
export class DriftReader {
  readonly #known = new Map<string, Known>();

  constructor(
    private readonly store: DeskStore,
    private readonly clock: Pick<Clock, "now">,
  ) {}

  /**
   * @param sees   sites that may be shown, and compared with one another
   * @param table  what arrays are beyond their site files, by `site/array`
   */
  async read(
    sees: (site: string) => boolean,
    by: "weight" | "days",
    table: ReadonlyMap<string, Readonly<Record<string, string>>>,
  ): Promise<Drift> {
    const heard = (await this.#heard()).filter(({ site }) => sees(site));
    const begun = this.clock.now();
    const due = heard.filter((one) => this.#isDue(one, begun));
    let done = 0;
    for (const one of due) {
      if (this.clock.now() - begun > BUDGET_MS) break;
      await this.#workOut(one);
      done += 1;
      // Readings and alarms come first: they get their turn between two arrays.
      await new Promise<void>((turn) => setImmediate(turn));
    }
    const arrays = heard.flatMap((one) => {
      const known = this.#known.get(one.key);
      return known === undefined ? [] : [fleetArray(known.finding, one, table.get(one.key) ?? {})];
    });
    return { pending: due.length - done, fleet: ranked(readFleet(arrays), by) };
  }

  #isDue({ key, digest, newestAt }: Heard, now: number): boolean {
    const known = this.#known.get(key);
    if (known?.digest !== digest) return true;
    return known.newestAt !== newestAt && now - known.workedOutAt >= HOLDS_MS;
  }

  async #workOut({ key, site, array, digest, newestAt, limits }: Heard): Promise<void> {
    const series = await storedSeries(this.store, site, array, limits.zone);
    const { finding } = readHistory({ ...series, array: key }, historyContext(limits));
    this.#known.set(key, { digest, newestAt, workedOutAt: this.clock.now(), finding });
  }

  async #heard(): Promise<readonly Heard[]> {
    const newest = await this.store.db
      .selectFrom("last_known")
      .select((of) => ["site", "array_id", of.fn.max<number>("received_at").as("at")])
      .where("kind", "=", "insulation")
      .where("array_id", "!=", "")
      .groupBy(["site", "array_id"])
      .execute();
    const rows = await this.store.db
      .selectFrom("site")
      .select(["id", "digest", "site_json", "limits_json"])
      .where("removed_at", "is", null)
      .execute();
    const files = new Map(rows.map((row) => [row.id, row]));
    const read = new Map<string, { readonly site: Site; readonly limits: Record<string, ArrayLimits> }>();
    return newest.flatMap(({ site: id, array_id: array, at }): readonly Heard[] => {
      const row = files.get(id);
      if (row === undefined) return [];
      if (!read.has(id))
        read.set(id, {
          site: JSON.parse(row.site_json) as Site,
          limits: JSON.parse(row.limits_json) as Record<string, ArrayLimits>,
        });
      const { site, limits } = read.get(id)!;
      const own = limits[array];
      const traits = { site: id, ...traitsOf(site, array) };
      const key = `${id}/${array}`;
      return own === undefined
        ? []
        : [{ key, site: id, array, digest: row.digest, newestAt: at, limits: own, traits }];
    });
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
