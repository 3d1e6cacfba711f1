import { requireWithin } from "./circuit-error.ts";

/**
 * Insulation resistance of a floating array from voltages: with a plain voltmeter, with a known resistor, with a pair of
 * resistors switched in turn. Every method sees the same two numbers, all leaks in parallel and where they balance.
 */
export interface Insulation {
  /** All leaks to earth in parallel [Ω]; Infinity where none shows. */
  readonly leakOhms: number;
  /** Where the leaks balance, as a share of the voltage from the negative end; null where the readings cannot place it. */
  readonly share: number | null;
  /** The same leaks as one resistance from each pole to earth [Ω]; Infinity where that pole has none. */
  readonly positiveOhms: number;
  readonly negativeOhms: number;
}

export type VoltmeterOutcome =
  | {
      readonly outcome: "measured" | "no-hard-fault";
      readonly because: string;
      readonly insulation: Insulation;
    }
  | { readonly outcome: "retake"; readonly because: string };

/** Below this part of the open-circuit voltage the readings place nothing [design choice]. */
export const PLACING_FLOOR_RATIO = 0.1;

/**
 * The voltmeter method: each pole to earth in turn with the same meter, nothing else connected.
 *
 * R = R_m (V / (|V₊| + |V₋|) − 1); share = |V₋| / (|V₊| + |V₋|), in which the meter cancels.
 * @param readings.inputOhms  meter input, in parallel with a shunt where one was used [Ω]
 * @param readings.errorV     what the three readings may be wrong by together [V]; more missing the other way means a retake
 * Source: Kirchhoff [computed]. Check: checks/circuit-worked, rows of two leaks, hard, soft, end and no fault.
 */
export function voltmeterMethod(readings: {
  readonly openCircuitV: number;
  readonly positiveV: number;
  readonly negativeV: number;
  readonly inputOhms: number;
  readonly errorV: number;
}): VoltmeterOutcome {
  const { openCircuitV, inputOhms, errorV } = readings;
  requireWithin("open-circuit voltage", openCircuitV, Number.MIN_VALUE, 1e5, "V");
  requireWithin("meter input resistance", inputOhms, 1, 1e15, "Ω");
  const positiveV = Math.abs(readings.positiveV);
  const negativeV = Math.abs(readings.negativeV);
  const sumV = positiveV + negativeV;
  if (sumV > openCircuitV + errorV) {
    const because = `${sumV} V from the poles to earth exceed ${openCircuitV} V between them: not taken under the same light`;
    return { outcome: "retake", because };
  }
  const leakOhms = sumV === 0 ? Infinity : Math.max(0, inputOhms * (openCircuitV / sumV - 1));
  const places = sumV >= PLACING_FLOOR_RATIO * openCircuitV;
  const insulation: Insulation = {
    leakOhms,
    share: places ? negativeV / sumV : null,
    positiveOhms: negativeV === 0 ? Infinity : (leakOhms * sumV) / negativeV,
    negativeOhms: positiveV === 0 ? Infinity : (leakOhms * sumV) / positiveV,
  };
  const part = `the poles show ${((100 * sumV) / openCircuitV).toFixed(1)} % of the voltage to earth`;
  if (places) return { outcome: "measured", because: part, insulation };
  return {
    outcome: "no-hard-fault",
    because: `${part}: far softer than the meter, no place claimed`,
    insulation,
  };
}

/**
 * The known-resistor method of UN Regulation No. 100, Annex 4B (rechargeable vehicles; the circuit is the same): a resistor from the
 * pole with the larger voltage to earth.
 *
 * R_i = R_o V_b (1/V₁′ − 1/V₁). This is the resistance of the OTHER, weaker pole's own leak. All leaks in parallel are
 * R_o (V₁ − V₁′)/V₁′, smaller by V₁/V_b: never compare the one with a limit for the other.
 * A meter that stays connected at the same pole for both voltages cancels out of R_i; it counts as a leak in parallelOhms.
 * Source: UN R100 Annex 4B, seen in part [published: consautoregs.com]; parallelOhms from Kirchhoff [computed].
 * Check: checks/circuit-worked.
 */
export function knownResistorMethod(readings: {
  readonly sourceV: number;
  /** Size of the larger pole voltage to earth, without and with the resistor [V]. */
  readonly largerV: number;
  readonly largerWithResistorV: number;
  readonly resistorOhms: number;
}): { readonly weakerPoleOhms: number; readonly parallelOhms: number } {
  const { sourceV, largerV, largerWithResistorV, resistorOhms } = readings;
  requireWithin("source voltage", sourceV, Number.MIN_VALUE, 1e5, "V");
  requireWithin("larger pole voltage", largerV, Number.MIN_VALUE, sourceV, "V");
  requireWithin("larger pole voltage with the resistor", largerWithResistorV, Number.MIN_VALUE, largerV, "V");
  requireWithin("known resistor", resistorOhms, Number.MIN_VALUE, 1e12, "Ω");
  return {
    weakerPoleOhms: resistorOhms * sourceV * (1 / largerWithResistorV - 1 / largerV),
    parallelOhms: resistorOhms * (largerV / largerWithResistorV - 1),
  };
}

/**
 * Spread of the parallel resistance found with a known resistor, from independent gain errors of the two voltages:
 * √2 · gainError · (1 + R_o / R). A resistor much larger than the leak multiplies the meter's error. First order [computed].
 */
export function knownResistorSpread(gainError: number, resistorOhms: number, parallelOhms: number): number {
  return Math.SQRT2 * gainError * (1 + resistorOhms / parallelOhms);
}

/** Sizes of both pole voltages to earth while a resistor is switched to one of them. */
export interface SwitchedState {
  readonly positiveV: number;
  readonly negativeV: number;
}

/**
 * The same known resistor switched from + and then from − to earth, as an insulation monitor does (IEC 61557-8 devices measure
 * while the array is live).
 *
 * With p = |V₋| / (|V₊| + |V₋|) in each state, p₊ − p₋ = g / (G + g): both poles are read at once, so slow changes of light cancel.
 * @param states  settled readings; see `settlingTimeS`
 * Source: Kirchhoff [computed]. Check: checks/circuit-worked against the two shunt states of the worked case.
 */
export function switchedPairMethod(
  resistorOhms: number,
  states: { readonly atPositive: SwitchedState; readonly atNegative: SwitchedState },
): Insulation {
  requireWithin("switched resistor", resistorOhms, Number.MIN_VALUE, 1e12, "Ω");
  const atPositive = shareOf(states.atPositive);
  const atNegative = shareOf(states.atNegative);
  const swing = atPositive - atNegative;
  requireWithin("swing of the poles between the two states, as a share of the voltage", swing, 1e-12, 1, "");
  const leakS = (1 / swing - 1) / resistorOhms;
  if (leakS === 0) return { leakOhms: Infinity, share: null, positiveOhms: Infinity, negativeOhms: Infinity };
  const share = (atNegative * (leakS + 1 / resistorOhms)) / leakS;
  return {
    leakOhms: 1 / leakS,
    share,
    positiveOhms: share <= 0 ? Infinity : 1 / (leakS * share),
    negativeOhms: share >= 1 ? Infinity : 1 / (leakS * (1 - share)),
  };
}

function shareOf({ positiveV, negativeV }: SwitchedState): number {
  const sum = Math.abs(positiveV) + Math.abs(negativeV);
  requireWithin("voltage between the poles", sum, Number.MIN_VALUE, 1e5, "V");
  return Math.abs(negativeV) / sum;
}

/**
 * Time after a change until the poles are within `remainingRatio` of where they settle [s]: −ln(ratio) · R · C.
 * 1 % takes 4.605 time constants.
 * @param arrayFarads   capacitance of the whole array to earth [F]
 * @param parallelOhms  everything between the array and earth in parallel, the switched resistor included [Ω]
 */
export function settlingTimeS(arrayFarads: number, parallelOhms: number, remainingRatio = 0.01): number {
  requireWithin("array capacitance", arrayFarads, 0, 1, "F");
  requireWithin("parallel resistance", parallelOhms, 0, 1e15, "Ω");
  requireWithin("remaining ratio", remainingRatio, 1e-12, 1, "");
  return -Math.log(remainingRatio) * arrayFarads * parallelOhms;
}

/**
 * Swing that a switched pair shows over the settled swing when it changes over every `halfPeriodS`, for ever:
 * tanh(T / 2τ). A monitor in too much haste sees a smaller swing and reports too low a resistance.
 * Source: periodic solution of the first-order circuit [computed].
 */
export function hastySwingRatio(halfPeriodS: number, timeConstantS: number): number {
  requireWithin("half period", halfPeriodS, 0, 1e9, "s");
  requireWithin("time constant", timeConstantS, Number.MIN_VALUE, 1e9, "s");
  return Math.tanh(halfPeriodS / (2 * timeConstantS));
}
