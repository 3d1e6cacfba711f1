import { CircuitError } from "../circuit/circuit-error.ts";

const PREFIXES: Readonly<Record<string, number>> = { "": 1, m: 1e-3, k: 1e3, K: 1e3, M: 1e6, G: 1e9 };

/** Reads the quantity of a requested reading ("100 kΩ", "500 V", "-1 kV", a bare number in the base unit). */
export function requestedQuantity(text: string, unit: "V" | "Ω"): number {
  const units = unit === "V" ? "V" : "(?:Ω|Ω|[Oo]hm)";
  const match = new RegExp(`^\\s*([-+−]?[0-9.]+(?:[eE][-+]?[0-9]+)?)\\s*(?:([mkKMG]?)${units})?\\s*$`).exec(
    text,
  );
  const value = match === null ? NaN : Number(match[1]!.replace("−", "-")) * PREFIXES[match[2] ?? ""]!;
  if (Number.isFinite(value)) return value;
  throw new CircuitError(
    "CIRCUIT_VALUE_OUT_OF_RANGE",
    `"${text}" is not a quantity in ${unit}; allowed: a number with ${unit}, k${unit} or M${unit}`,
  );
}
