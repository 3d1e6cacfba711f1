import type { WatchReading } from "@earthbell/model";

interface Kept {
  readonly last: WatchReading;
  /** The worst that was said since the desk last took something in: never dropped. */
  readonly worst: WatchReading;
}

/**
 * Readings that the desk has not taken in yet. Of each device, array and kind it keeps the newest and the worst (the first bit
 * that is set, the lowest insulation, the highest current), so that a fault which came and went while the desk could not
 * store anything is still told, and the whole stays bounded by the number of devices.
 */
export class Backlog {
  private readonly kept = new Map<string, Kept>();

  /** Readings may come in any order, also back from a batch that was rejected. */
  keep(reading: WatchReading): void {
    const { site, device, array = "", kind } = reading;
    const place = JSON.stringify([site, device, array, kind]);
    const { last, worst } = this.kept.get(place) ?? { last: reading, worst: reading };
    const newest = reading.at >= last.at ? reading : last;
    this.kept.set(place, { last: newest, worst: worseOf(worst, reading) ?? newest });
  }

  /** Takes out at most so many places' readings, those of the longest known place first; older readings before newer. */
  take(places: number): readonly WatchReading[] {
    const taken: WatchReading[] = [];
    for (const [place, { last, worst }] of this.kept) {
      if (places-- <= 0) break;
      this.kept.delete(place);
      taken.push(
        ...(worst.key === last.key ? [last] : [worst, last].sort((one, other) => one.at - other.at)),
      );
    }
    return taken;
  }

  get isEmpty(): boolean {
    return this.kept.size === 0;
  }
}

/** Whether a reading reports a fault that a person has to hear of. */
export function reportsFault({ kind, value, quality }: WatchReading): boolean {
  return (kind === "earth-fault-bit" || kind === "residual-trip") && quality === "good" && value === true;
}

/** The worse of two readings of one kind; null where none of them need outlive the newest. */
function worseOf(one: WatchReading, other: WatchReading): WatchReading | null {
  const [first, second] = one.at <= other.at ? [one, other] : [other, one];
  switch (first.kind) {
    case "earth-fault-bit":
    case "residual-trip":
      return reportsFault(first) ? first : reportsFault(second) ? second : null;
    case "insulation":
      return byNumber(first, second, (left, right) => left <= right);
    case "residual-current":
      return byNumber(first, second, (left, right) => left >= right);
    case "device-state":
    case "heartbeat":
      return null;
  }
}

function byNumber(
  first: WatchReading,
  second: WatchReading,
  firstIsWorse: (left: number, right: number) => boolean,
): WatchReading | null {
  if (first.quality !== "good") return second.quality === "good" ? second : null;
  if (second.quality !== "good") return first;
  return firstIsWorse(Number(first.value), Number(second.value)) ? first : second;
}
