import type { Sourced } from "../provenance.ts";

/** Full rating up to the first temperature, none at the second, a straight line between [°C]: typical film resistors. */
const DERATING_LINE: Sourced<{ readonly fullToC: number; readonly zeroAtC: number }> = {
  value: { fullToC: 70, zeroAtC: 155 },
  source: "typical film resistor data",
  tag: "memory",
};

/**
 * Share of its rating that a film resistor may carry at an ambient temperature.
 *
 * Check: checks/resistor-derating
 * @example 100 °C: 0.647
 */
export function resistorDerating(ambientC: number): number {
  const { fullToC, zeroAtC } = DERATING_LINE.value;
  return Math.max(0, Math.min(1, (zeroAtC - ambientC) / (zeroAtC - fullToC)));
}
