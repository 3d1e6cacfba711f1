import type { Sourced } from "../provenance.ts";
import type { Celsius } from "../quantity/index.ts";

/** One row: from the warmest to the coldest lowest-ambient temperature it covers, both ends included, whole °C. */
export interface TemperatureFactorRow {
  readonly warmestC: number;
  readonly coldestC: number;
  readonly factor: Sourced<number>;
}

const row = (warmestC: number, coldestC: number, value: number): TemperatureFactorRow => ({
  warmestC,
  coldestC,
  factor: {
    value,
    source: "NEC table 690.7(A); the same factors in IEC 62548 and AS/NZS 5033",
    tag: "memory",
  },
});

/** Open-circuit voltage of crystalline silicon at the lowest ambient temperature, relative to 25 °C. */
export const TEMPERATURE_FACTORS: readonly TemperatureFactorRow[] = [
  row(24, 20, 1.02),
  row(19, 15, 1.04),
  row(14, 10, 1.06),
  row(9, 5, 1.08),
  row(4, 0, 1.1),
  row(-1, -5, 1.12),
  row(-6, -10, 1.14),
  row(-11, -15, 1.16),
  row(-16, -20, 1.18),
  row(-21, -25, 1.2),
  row(-26, -30, 1.21),
  row(-31, -35, 1.23),
  row(-36, -40, 1.25),
];

/**
 * Table factor of the open-circuit voltage at a lowest ambient temperature. Crystalline silicon only.
 *
 * Between two rows the colder row counts [design choice]. At 25 °C and above the factor is 1: the rated voltage is
 * stated at 25 °C and falls when it is warmer.
 *
 * @returns null below −40 °C, where the table ends and only a coefficient will do
 * @example temperatureFactor(-10) is 1.14, temperatureFactor(19.5) is 1.04
 * Check: checks/temperature-factor
 */
export function temperatureFactor(lowestAmbient: Celsius): Sourced<number> | null {
  if (lowestAmbient >= 25) return { value: 1, source: "rated voltage holds at 25 °C", tag: "design choice" };
  return TEMPERATURE_FACTORS.find((candidate) => lowestAmbient >= candidate.coldestC)?.factor ?? null;
}
