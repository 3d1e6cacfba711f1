import type { ReadingKind, WatchReading } from "@earthbell/model";

/** How often a device's word is passed on though nothing has changed. */
export interface TellingPace {
  /** A sign of life. */
  readonly heartbeatMs: number;
  /** Everything it says. */
  readonly repeatMs: number;
}

/**
 * Passes on what has changed, and everything now and then: a device says the same ten thousand times a day, and none of it
 * may fill the desk's store. All readings of a kind go together, so that arrays are never told apart in time.
 */
export class Telling {
  private readonly pace: TellingPace;
  private readonly told = new Map<ReadingKind, Told>();

  constructor(pace: TellingPace) {
    this.pace = pace;
  }

  /** What of a poll's readings is to be passed on at an instant. */
  choose(readings: readonly WatchReading[], now: number): readonly WatchReading[] {
    const kinds = new Set(readings.map(({ kind }) => kind));
    return [...kinds].flatMap((kind) => {
      const of = readings.filter((reading) => reading.kind === kind);
      const says = JSON.stringify(of.map(({ array, quality, value }) => [array, quality, value]));
      const last = this.told.get(kind);
      const every = kind === "heartbeat" ? this.pace.heartbeatMs : this.pace.repeatMs;
      if (last !== undefined && last.says === says && now - last.at < every) return [];
      this.told.set(kind, { says, at: now, readings: of });
      return of;
    });
  }

  /** What it last said, to be taken back when it falls silent. After that the next poll tells everything anew. */
  takeBack(): readonly WatchReading[] {
    const last = [...this.told.values()].flatMap(({ readings }) => readings);
    this.told.clear();
    return last.filter(({ kind, quality }) => kind !== "heartbeat" && quality === "good");
  }
}

interface Told {
  readonly says: string;
  readonly at: number;
  readonly readings: readonly WatchReading[];
}
