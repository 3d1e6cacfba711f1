import { seededRandom, type Site } from "@earthbell/engine";

/** One damaged place of an invented array: between which modules of which string, and its resistance to earth. */
export interface DemoDamage {
  readonly site: string;
  readonly array: string;
  readonly string: string;
  /** Modules from the negative end. */
  readonly at: number;
  readonly ohms: number;
}

/** The one that fails a little after the start, where the scenario's own visit found it. */
export const CREAMERY_DAMAGE: DemoDamage = {
  ...{ site: "creamery", array: "A1", string: "S2" },
  ...{ at: 5, ohms: 9000 },
};
const OHMS = [2_000, 20_000] as const;

/**
 * Where the damage of each array of the demonstration is, should it report one: a stand-in meter answers by this, so that
 * somebody without a roof can find it. The same seed hides it at the same places.
 */
export function demoDamage(sites: readonly Site[], seed: number): readonly DemoDamage[] {
  const random = seededRandom(seed);
  return sites.flatMap(({ id: site, arrays }) =>
    arrays.flatMap(({ id: array, strings }): DemoDamage[] => {
      const string = strings[Math.floor(random.uniform() * strings.length)];
      if (string === undefined) return [];
      const at = Math.floor(random.uniform() * (string.modules + 1));
      const ohms = OHMS[0] * (OHMS[1] / OHMS[0]) ** random.uniform();
      if (site === CREAMERY_DAMAGE.site && array === CREAMERY_DAMAGE.array) return [CREAMERY_DAMAGE];
      return [{ site, array, string: string.id, at, ohms }];
    }),
  );
}
