import type { Bench } from "./instruments.ts";
import { connectionKey } from "./configuration.ts";
import { fitOf } from "./fit.ts";
import { problemOf } from "./problem.ts";
import type { Reading, Visit } from "./visit.ts";

/**
 * Leaves out readings that a repeat of the same measurement contradicts, where the rest fits without them.
 * A reading is never dropped silently: each goes with a warning.
 */
export function withoutOutvoted(
  visit: Visit,
  bench: Bench,
): { readonly visit: Visit; readonly warnings: readonly string[] } {
  const groups = new Map<string, number[]>();
  visit.readings.forEach((reading, index) => {
    const key = sameMeasurement(visit, reading);
    groups.set(key, [...(groups.get(key) ?? []), index]);
  });
  const repeated = [...groups.values()].filter((indices) => indices.length > 1).flat();
  if (repeated.length === 0 || fitOf(problemOf(visit, bench)).consistent) return { visit, warnings: [] };
  for (const index of repeated) {
    const without = { ...visit, readings: visit.readings.filter((_, i) => i !== index) };
    if (fitOf(problemOf(without, bench)).consistent)
      return {
        visit: without,
        warnings: [
          `reading ${String(index + 1)} is left out: its repeat fits the other readings and it does not`,
        ],
      };
  }
  return { visit, warnings: [] };
}

function sameMeasurement(visit: Visit, reading: Reading): string {
  const where = connectionKey(visit, reading);
  if (reading.kind === "voltage")
    return `${reading.with} ${where} ${reading.from} ${reading.to} ${String(reading.shunt ?? "")}`;
  if (reading.kind === "insulation")
    return `${reading.with} ${where} ${reading.from} ${String(reading.testVoltage)}`;
  return `${reading.with} ${where} ${reading.circuit} ${String(reading.isolated)} ${reading.from} ${String(reading.shunt)}`;
}
