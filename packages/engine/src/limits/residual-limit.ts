import type { Sourced, Tag } from "../provenance.ts";
import type { Ohms, VoltAmperes, Volts } from "../quantity/index.ts";
import type { ResidualRow } from "../rules/pack.ts";

const SOURCE = "IEC 62109-2 cl. 4.8.3";

/** Continuous residual current at which an inverter must disconnect, by its rating in kVA. */
export const RESIDUAL_LIMITS: readonly ResidualRow[] = [
  { above: 0, atMost: 30, milliamps: { value: 300, source: SOURCE, tag: "memory" } },
  { above: 30, milliampsPerKilovoltampere: { value: 10, source: SOURCE, tag: "memory" } },
];

/** Time in which the continuous limit must disconnect, in seconds. */
export const RESIDUAL_CONTINUOUS_SECONDS: Sourced<number> = { value: 0.3, source: SOURCE, tag: "memory" };

/** Sudden steps of residual current and the time in which each must disconnect. */
export const RESIDUAL_STEPS: readonly { readonly milliamps: number; readonly seconds: Sourced<number> }[] = [
  { milliamps: 30, seconds: { value: 0.3, source: SOURCE, tag: "memory" } },
  { milliamps: 60, seconds: { value: 0.15, source: SOURCE, tag: "memory" } },
  { milliamps: 150, seconds: { value: 0.04, source: SOURCE, tag: "memory" } },
];

export interface ResidualLimit {
  readonly continuousMilliamps: number;
  readonly source: string;
  readonly tag: Tag;
}

/**
 * Continuous residual-current limit of an inverter without separation from the mains.
 *
 * @param ratedPower  inverter rating [VA], > 0
 * @param rows        a rule pack's own rows, or the standard's
 * Source: IEC 62109-2 [memory]. Check: checks/iec-62109-2
 * @example 30 kVA: 300 mA; 50 kVA: 500 mA
 */
export function residualLimit(
  ratedPower: VoltAmperes,
  rows: readonly ResidualRow[] = RESIDUAL_LIMITS,
): ResidualLimit | null {
  const kilovoltamperes = ratedPower / 1000;
  const row = residualRowAt(rows, kilovoltamperes);
  if (row?.milliamps !== undefined)
    return {
      continuousMilliamps: row.milliamps.value,
      source: row.milliamps.source,
      tag: row.milliamps.tag,
    };
  const rate = row?.milliampsPerKilovoltampere;
  return rate === undefined
    ? null
    : { continuousMilliamps: rate.value * kilovoltamperes, source: rate.source, tag: rate.tag };
}

/** The row that holds a rating in kVA: above its lower end, at most its upper end. */
export function residualRowAt(
  rows: readonly ResidualRow[],
  kilovoltamperes: number,
): ResidualRow | undefined {
  return rows.find(
    (candidate) => kilovoltamperes > candidate.above && kilovoltamperes <= (candidate.atMost ?? Infinity),
  );
}

/** Leak current that the array's insulation must hold at its highest voltage, in milliamperes. */
export const LEAK_CURRENT_RULES = {
  "iec-62109-2": { value: 30, source: "IEC 62109-2 cl. 4.8.2.1, floating arrays", tag: "memory" },
  /** 1 kΩ per volt is the same as 1 mA. */
  "vde-0126-1-1": { value: 1, source: "VDE 0126-1-1, start insulation 1 kΩ/V", tag: "memory" },
} as const satisfies Readonly<Record<string, Sourced<number>>>;

/**
 * Insulation resistance that lets a stated leak current flow at the highest array voltage: R = V / I.
 *
 * @param maxVoltage  highest array voltage on the coldest day [V], > 0
 * @returns [Ω]
 * Source: IEC 62109-2 cl. 4.8.2.1, VDE 0126-1-1 [memory]. Check: checks/iec-62109-2
 * @example 600 V by IEC 62109-2: 20 kΩ
 */
export function leakInsulation(maxVoltage: Volts, rule: keyof typeof LEAK_CURRENT_RULES): Sourced<Ohms> {
  const { value, source, tag } = LEAK_CURRENT_RULES[rule];
  return { value: ((maxVoltage / value) * 1000) as Ohms, source, tag };
}
