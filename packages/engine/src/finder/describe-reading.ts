import { formatQuantity } from "../quantity/index.ts";
import type { Reading } from "./visit.ts";

/** A reading in words: what was measured between what, with its value. */
export function describeReading(reading: Reading): string {
  const where = reading.segment
    ? `${reading.on}, nodes ${String(reading.segment[0])} to ${String(reading.segment[1])}`
    : reading.on;
  const off =
    reading.isolated && reading.isolated.length > 0 ? ` without ${reading.isolated.join(", ")}` : "";
  if (reading.kind === "leakage")
    return `${where}${off}: leakage with ${reading.from === "-" ? "−" : "+"} led to earth through ${String(reading.shunt / 1000)} kΩ, ${(reading.value * 1000).toFixed(2)} mA`;
  if (reading.kind === "insulation")
    return `${where}${off}: insulation from ${reading.from} to earth ${formatQuantity(reading.value, "resistance", { significant: 6 })}`;
  const shunt =
    reading.shunt === undefined ? "" : ` with ${String(reading.shunt / 1000)} kΩ across the meter`;
  return `${where}${off}: ${reading.from} to ${reading.to === "-" ? "−" : reading.to}${shunt} ${reading.value.toFixed(1)} V`.replace(
    ": - to",
    ": − to",
  );
}
