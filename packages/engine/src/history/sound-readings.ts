import type { HistoryReading } from "./reading.ts";

/** Above this no instrument of the trade measures an array; a larger number is a sign for "over range" or a slip [design choice]. */
const LARGEST_OHMS = 1e11;

export interface Doubt {
  readonly code:
    | "not-a-number"
    | "negative"
    | "zero"
    | "too-large"
    | "out-of-order"
    | "repeated"
    | "contradicting";
  readonly count: number;
  readonly text: string;
}

export interface SoundReadings {
  /** Ascending by instant, one an instant, resistance above zero. */
  readonly readings: readonly HistoryReading[];
  readonly doubts: readonly Doubt[];
  /** Readings given, sound or not. */
  readonly given: number;
  /** Readings of exactly zero: left out, and a sign of a broken connection when many. */
  readonly zeros: number;
}

/** Sets aside what cannot be a reading, puts the rest in order, and says what was done. */
export function soundReadings(given: readonly HistoryReading[]): SoundReadings {
  const count = { nan: 0, negative: 0, zero: 0, large: 0, order: 0, repeated: 0, contradicting: 0 };
  const kept: HistoryReading[] = [];
  let sorted = true;
  let last = -Infinity;
  for (const reading of given) {
    const { at, ohms } = reading;
    if (!Number.isFinite(at) || Number.isNaN(ohms)) count.nan++;
    else if (ohms < 0) count.negative++;
    else if (ohms === 0) count.zero++;
    else if (ohms > LARGEST_OHMS) count.large++;
    else {
      if (at < last) {
        sorted = false;
        count.order++;
      }
      last = Math.max(last, at);
      kept.push(reading);
    }
  }
  const ordered = sorted ? kept : kept.toSorted((a, b) => a.at - b.at);
  const readings = ordered.filter((reading, i) => {
    const before = ordered[i - 1];
    if (before?.at !== reading.at) return true;
    if (before.ohms === reading.ohms) count.repeated++;
    else count.contradicting++;
    return false;
  });
  return { readings, doubts: doubtsOf(count), given: given.length, zeros: count.zero };
}

function doubtsOf(count: {
  readonly nan: number;
  readonly negative: number;
  readonly zero: number;
  readonly large: number;
  readonly order: number;
  readonly repeated: number;
  readonly contradicting: number;
}): Doubt[] {
  const doubts: Doubt[] = [
    { code: "not-a-number", count: count.nan, text: "without a number or an instant; left out" },
    { code: "negative", count: count.negative, text: "below zero, which no resistance is; left out" },
    {
      code: "zero",
      count: count.zero,
      text: "of exactly 0 Ω; left out, because a lost connection is often written so. A dead short would show on a meter: look, if the alarm stands",
    },
    {
      code: "too-large",
      count: count.large,
      text: "above 100 GΩ, which marks over-range or a wrong unit; left out",
    },
    { code: "out-of-order", count: count.order, text: "earlier than one before them; put in order of time" },
    { code: "repeated", count: count.repeated, text: "written twice; counted once" },
    {
      code: "contradicting",
      count: count.contradicting,
      text: "with another value at an instant already read; the first was kept",
    },
  ];
  return doubts.filter((doubt) => doubt.count > 0);
}
