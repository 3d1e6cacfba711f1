import { WATCH_LIMITS } from "../limits.ts";
import type { WatchReading } from "../reading.ts";
import type { Sign } from "../sign.ts";
import { detectReading } from "./detect-reading.ts";
import { type ArrayLimits, type DetectorState, newDetectorState } from "./detector-state.ts";

/** The array of an invented dairy, watched through one inverter. */
export const TARN: ArrayLimits = {
  zone: "Australia/Melbourne",
  insulationThreshold: { value: 30_000, source: "AS/NZS 5033:2014 table 3.2", tag: "memory" },
  insulationCeiling: { value: 20_000_000, source: "the inverter's data sheet", tag: "user" },
  morningChecks: [{ device: "INV1", kind: "insulation" }],
  watch: WATCH_LIMITS,
};

let count = 0;

export function readingOf(change: Partial<WatchReading> & Pick<WatchReading, "at">): WatchReading {
  count += 1;
  return {
    site: "tarn",
    array: "A1",
    device: "INV1",
    kind: "insulation",
    value: 1_000_000,
    unit: "ohm",
    quality: "good",
    source: "sunspec",
    key: `reading ${String(count)}`,
    ...change,
  };
}

export function insulation(at: number, ohms: number, device = "INV1"): WatchReading {
  return readingOf({ at, value: ohms, device });
}

export function bit(at: number, value: boolean, device = "INV1"): WatchReading {
  return readingOf({ at, value, device, kind: "earth-fault-bit", unit: "bit" });
}

/** Takes readings one after the other; the signs of each of them, and the state at the end. */
export function takeAll(
  readings: readonly WatchReading[],
  limits: ArrayLimits = TARN,
  from: DetectorState = newDetectorState("tarn", "A1"),
): { readonly state: DetectorState; readonly signs: readonly (readonly Sign[])[] } {
  let state = from;
  const signs = readings.map((reading) => {
    const detection = detectReading(state, reading, limits);
    state = detection.state;
    return detection.signs;
  });
  return { state, signs };
}

/** `set earth-fault-bit`, for tables. */
export function words(signs: readonly Sign[]): readonly string[] {
  return signs.map(({ change, sign }) => `${change} ${sign}`);
}
