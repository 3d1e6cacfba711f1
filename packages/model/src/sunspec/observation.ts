import type { ReadingQuality } from "../watch/reading.ts";
import type { ExtraKind } from "./device.ts";

/** One thing that one point of a device says. */
export interface Observation {
  readonly kind: ExtraKind;
  /** null where it is of the device as a whole. */
  readonly array: string | null;
  /** null unless good. */
  readonly value: boolean | number | null;
  readonly quality: ReadingQuality;
}

/** Which of two values of one kind is the worse: any bit that is set, the lowest insulation, the highest current. */
function worse(kind: ExtraKind, one: Observation, other: Observation): Observation {
  if (kind === "insulation") return Number(other.value) < Number(one.value) ? other : one;
  return Number(other.value) > Number(one.value) ? other : one;
}

/** Order in which observations without a value speak for the rest. */
const TELLING: readonly ReadingQuality[] = ["implausible", "stale", "not-implemented"];

function combined(kind: ExtraKind, of: readonly Observation[]): Observation {
  const good = of.filter(({ quality }) => quality === "good");
  if (good.length > 0) return good.reduce((one, other) => worse(kind, one, other));
  return of.reduce((one, other) =>
    TELLING.indexOf(other.quality) < TELLING.indexOf(one.quality) ? other : one,
  );
}

/**
 * One observation for each kind and array, the worst of those that say the same kind of thing.
 *
 * A watch follows a device's word about an array by the last one it gave: were two ports of one array told apart, the
 * healthy port would clear the fault of the other. So a kind that is told by array is told by array throughout: what the
 * device says as a whole counts for every one of its arrays.
 */
export function combine(
  observations: readonly Observation[],
  arrays: readonly string[] | undefined,
): readonly Observation[] {
  const kinds = [...new Set(observations.map(({ kind }) => kind))];
  return kinds.flatMap((kind): Observation[] => {
    const of = observations.filter((one) => one.kind === kind);
    if (arrays === undefined || of.every(({ array }) => array === null))
      return [{ ...combined(kind, of), array: null }];
    return arrays.flatMap((array) => {
      const concerning = of.filter((one) => one.array === array || one.array === null);
      return concerning.length === 0 ? [] : [{ ...combined(kind, concerning), array }];
    });
  });
}
