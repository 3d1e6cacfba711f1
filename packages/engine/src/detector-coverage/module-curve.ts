import type { ModuleSource } from "../circuit/index.ts";

type SingleDiode = Extract<ModuleSource, { readonly kind: "single-diode" }>;

/** What a data sheet gives of a module, at the light and temperature of the moment. */
export interface ModuleRating {
  readonly openCircuitV: number;
  readonly shortCircuitA: number;
  readonly maxPowerW: number;
}

/** V_oc in units of n·N_s·kT/q: 0.5 V a cell over 26 mV (design choice; it shapes the knee, hardly the blind spot). */
const KNEE = 19.3;
const SHUNT_SHARE = 40;

/** Current of a module at a voltage, by Newton's method on the implicit single-diode equation. */
export function moduleCurrentA(module: SingleDiode, volts: number): number {
  const { lightA, saturationA, slopeV, seriesOhms, shuntOhms } = module;
  let current = lightA;
  for (let round = 0; round < 100; round++) {
    const junction = volts + current * seriesOhms;
    const diode = saturationA * Math.exp(Math.min(junction / slopeV, 200));
    const error = lightA - (diode - saturationA) - junction / shuntOhms - current;
    const step = error / (-1 - (diode * seriesOhms) / slopeV - seriesOhms / shuntOhms);
    current -= step;
    if (Math.abs(step) < 1e-12 * (1 + Math.abs(current))) break;
  }
  return current;
}

export interface PowerPoint {
  readonly volts: number;
  readonly amperes: number;
}

/** The point of greatest power, by golden-section search between 0 and V_oc. */
export function maxPowerPoint(module: SingleDiode, openCircuitV: number): PowerPoint {
  const ratio = (Math.sqrt(5) - 1) / 2;
  const power = (volts: number): number => volts * moduleCurrentA(module, volts);
  let low = 0;
  let high = openCircuitV;
  while (high - low > 1e-9 * openCircuitV) {
    const left = high - ratio * (high - low);
    const right = low + ratio * (high - low);
    if (power(left) < power(right)) low = left;
    else high = right;
  }
  const volts = (low + high) / 2;
  return { volts, amperes: moduleCurrentA(module, volts) };
}

function withSeries({ openCircuitV, shortCircuitA }: ModuleRating, seriesOhms: number): SingleDiode {
  const slopeV = openCircuitV / KNEE;
  const shuntOhms = (SHUNT_SHARE * openCircuitV) / shortCircuitA;
  const lightA = shortCircuitA * (1 + seriesOhms / shuntOhms);
  // The diode takes all the light current but the shunt's at open circuit.
  const saturationA = (lightA - openCircuitV / shuntOhms) / (Math.exp(KNEE) - 1);
  return { kind: "single-diode", lightA, saturationA, slopeV, seriesOhms, shuntOhms };
}

/**
 * A single-diode module with the stated open-circuit voltage and power and, within a percent, the short-circuit current.
 *
 * The series resistance is found by bisection so that the greatest power is the stated one; a stated power above what the
 * knee allows gives no series resistance. Good for where an earth-fault current falls under a trip level, not for yield.
 */
export function moduleCurve(rating: ModuleRating): SingleDiode {
  let low = 0;
  let high = rating.openCircuitV / rating.shortCircuitA;
  const powerWith = (ohms: number): number => {
    const { volts, amperes } = maxPowerPoint(withSeries(rating, ohms), rating.openCircuitV);
    return volts * amperes;
  };
  for (let round = 0; round < 60; round++) {
    const middle = (low + high) / 2;
    if (powerWith(middle) > rating.maxPowerW) low = middle;
    else high = middle;
  }
  return withSeries(rating, (low + high) / 2);
}
