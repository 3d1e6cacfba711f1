import { preferredAtMost } from "../limits/preferred-values.ts";
import type { Sourced } from "../provenance.ts";
import type { Amperes, Ohms, Ratio, Volts, Watts } from "../quantity/index.ts";
import { proofResistorWarnings } from "./warnings.ts";

/** How far a detector's real threshold may lie below the stated one. */
export const DETECTOR_TOLERANCE: Sourced<Ratio> = {
  value: 0.2 as Ratio,
  source: "allowance for the detector's own error",
  tag: "design choice",
};

/** A resistor is loaded to at most half of its rating. */
export const POWER_DERATING: Sourced<number> = {
  value: 2,
  source: "practice for film resistors",
  tag: "memory",
};

/** Voltage above which a test resistor is made of several in series. */
export const ELEMENT_VOLTAGE: Sourced<Volts> = {
  value: 250 as Volts,
  source: "practice for resistor elements",
  tag: "common practice",
};

/** Ratings in which enclosed power resistors are commonly sold, in W. */
export const POWER_RATINGS: Sourced<readonly number[]> = {
  value: [5, 10, 15, 25, 50, 75, 100, 150, 200, 250, 300, 500, 750, 1000],
  source: "sizes in the trade",
  tag: "common practice",
};

export interface ProofResistorInput {
  /** Highest array voltage on the coldest day. */
  readonly maxVoltage: Volts;
  /** Insulation below which the alarm must operate. */
  readonly threshold: Ohms;
  readonly tolerance?: Ratio;
  /**
   * Insulation of the sound array beside the resistor. Left out: infinite, which is the binding case. Sound insulation
   * lies parallel to the resistor and helps it, so a resistor that suffices alone suffices always.
   */
  readonly healthy?: Ohms;
  /** Continuous residual-current limit of the inverter; left out: not known. */
  readonly residualLimitMilliamps?: number;
}

export interface ProofResistor {
  /** One resistor: preferred value, rating and current. */
  readonly ohms: number;
  readonly watts: number;
  readonly milliamps: number;
  /** Heat at the highest array voltage. */
  readonly dissipatedWatts: number;
  /** The resistance that must not be exceeded, as measured before use. */
  readonly atMostOhms: number;
  /** Elements in series that the voltage asks for. */
  readonly elements: number;
  /** The same made of equal preferred values in series; its total may be lower than `ohms`, its current higher. */
  readonly series: {
    readonly ohmsEach: number;
    readonly wattsEach: number;
    readonly totalOhms: number;
    readonly milliamps: number;
  };
  /** false: its current would exceed the residual-current limit, so it must not be connected. */
  readonly permitted: boolean;
  readonly warnings: readonly string[];
}

/**
 * The resistor from one pole to earth that proves the alarm.
 *
 * Model: 1/(1/R_t + 1/R_healthy) ≤ R_threshold (1 − tolerance); the highest IEC 60063 E24 value that does it. Heat
 * V²/R_t at the highest array voltage, continuous, with a derating of 2; working voltage shared by equal elements.
 * For floating arrays only.
 *
 * @returns null when the sound array is itself at or below the threshold less its tolerance: then the alarm should
 *          already be on and there is nothing to prove with a resistor
 * @throws RangeError PROOF_INPUT_OUT_OF_RANGE for a voltage, threshold or tolerance outside its range
 * Source: Kirchhoff; series and ratings as tagged above. Check: checks/proof-resistor
 * @example 600 V, 30 kΩ, 20 %, 1 MΩ: at most 24.59 kΩ, so 24 kΩ; 25 mA, 15 W of heat
 */
export function proofResistor(input: ProofResistorInput): ProofResistor | null {
  const { maxVoltage, threshold, healthy = Infinity, tolerance = DETECTOR_TOLERANCE.value } = input;
  requirePositive("voltage", maxVoltage);
  requirePositive("threshold", threshold);
  if (!(tolerance >= 0 && tolerance < 1))
    throw new RangeError(
      `PROOF_INPUT_OUT_OF_RANGE: tolerance must be from 0 up to but not 1, not ${tolerance}`,
    );
  const target = threshold * (1 - tolerance);
  if (healthy <= target) return null;
  const atMost = 1 / (1 / target - 1 / healthy);
  const ohms = preferredAtMost(atMost as Ohms);
  const elements = Math.max(1, Math.ceil(maxVoltage / ELEMENT_VOLTAGE.value));
  const series = inSeries(maxVoltage, atMost, elements);
  const current = Math.max(milliamps(maxVoltage, ohms), series.milliamps);
  const { residualLimitMilliamps } = input;
  const permitted = current <= (residualLimitMilliamps ?? Infinity);
  return {
    ohms,
    watts: ratingFor(heat(maxVoltage, ohms)),
    milliamps: milliamps(maxVoltage, ohms),
    dissipatedWatts: heat(maxVoltage, ohms),
    atMostOhms: atMost,
    elements,
    series,
    permitted,
    warnings: proofResistorWarnings({
      maxVoltage,
      milliamps: current,
      atMostOhms: atMost,
      elements,
      permitted,
      residualLimitMilliamps,
    }),
  };
}

function inSeries(maxVoltage: Volts, atMost: number, elements: number): ProofResistor["series"] {
  const ohmsEach = preferredAtMost((atMost / elements) as Ohms);
  const totalOhms = ohmsEach * elements;
  return {
    ohmsEach,
    wattsEach: ratingFor((heat(maxVoltage, totalOhms as Ohms) / elements) as Watts),
    totalOhms,
    milliamps: milliamps(maxVoltage, totalOhms as Ohms),
  };
}

/**
 * Smallest common rating that carries the heat with the derating; whole kilowatts beyond the list.
 *
 * Check: checks/proof-resistor
 */
export function ratingFor(dissipated: Watts): number {
  const needed = dissipated * POWER_DERATING.value;
  return POWER_RATINGS.value.find((rating) => rating >= needed) ?? Math.ceil(needed / 1000) * 1000;
}

/** Heat of a resistor across a voltage: V²/R. Check: checks/proof-resistor */
export function heat(across: Volts, ohms: Ohms): Watts {
  return (across ** 2 / ohms) as Watts;
}

function milliamps(across: Volts, ohms: Ohms): number {
  const current = (across / ohms) as Amperes;
  return current * 1000;
}

function requirePositive(name: string, value: number): void {
  if (!(value > 0 && Number.isFinite(value)))
    throw new RangeError(`PROOF_INPUT_OUT_OF_RANGE: ${name} must be above 0 and finite, not ${value}`);
}
