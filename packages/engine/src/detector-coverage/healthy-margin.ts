import { healthyFloor, WET_LEAKAGE_FLOOR } from "../limits/index.ts";
import type { SquareMetres } from "../quantity/index.ts";

/** What a healthy array may show when wet and warm, beside what alarms. */
export interface HealthyMargin {
  /** Lowest insulation a healthy array may honestly show [Ω]: 40 MΩ·m² / area. */
  readonly floorOhms: number;
  /** Floor over threshold; below 1 a healthy array may alarm. */
  readonly marginToThreshold: number;
  /** Area at which the floor meets the threshold, detector uncertainty included [m²]. */
  readonly largestAreaM2: number;
  readonly falseAlarm: "expected-when-wet" | "possible-when-wet" | "unlikely";
  /** Leak of the healthy array through the functional earth [A] and its share of the interrupter's rating. */
  readonly standingLeak: { readonly amperes: number; readonly shareOfRating: number } | null;
}

export interface HealthyMarginInput {
  readonly area: SquareMetres;
  readonly thresholdOhms: number;
  /** Uncertainty of the detector as a share (IEC 61557-8 monitors: 0.15, memory). */
  readonly tolerance?: number;
  /** For an earthed array: array voltage [V] and the interrupter's rating [A]. */
  readonly interrupter?: { readonly arrayV: number; readonly ratedA: number };
}

/** A wet array's insulation differs by a factor of two to ten from part to part (field test, published abstract). */
const SCATTER = 2;

/**
 * Margin between the insulation that a healthy array may show and the threshold that alarms.
 *
 * The floor is a qualification value: new modules are far above it. It says what cannot be called a fault, not what to expect.
 * Source: IEC 61215-2 MQT 15 [memory]. Check: checks/coverage-ngspice (areas worked out by hand)
 * @example 400 modules of 2 m² against 50 kΩ: floor 50 kΩ, margin 1
 */
export function healthyMargin(input: HealthyMarginInput): HealthyMargin {
  const floorOhms = healthyFloor(input.area);
  const alarmBelow = input.thresholdOhms * (1 + (input.tolerance ?? 0));
  const margin = floorOhms / alarmBelow;
  const { interrupter } = input;
  // The leak is spread evenly along the string, so it is driven by half the array voltage on average.
  const amperes = interrupter === undefined ? 0 : interrupter.arrayV / 2 / floorOhms;
  return {
    floorOhms,
    marginToThreshold: floorOhms / input.thresholdOhms,
    largestAreaM2: WET_LEAKAGE_FLOOR.value / alarmBelow,
    falseAlarm: margin < 1 ? "expected-when-wet" : margin < SCATTER ? "possible-when-wet" : "unlikely",
    standingLeak: interrupter === undefined ? null : { amperes, shareOfRating: amperes / interrupter.ratedA },
  };
}
