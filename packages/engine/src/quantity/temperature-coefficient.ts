import type { PerKelvin, VoltsPerKelvin } from "./brands.ts";
import { formatQuantity, type FormatOptions } from "./format-quantity.ts";
import { parseQuantity, type QuantityResult } from "./parse-quantity.ts";

/** How a voltage changes with temperature: as a share of its rated value, or in volts. The two are never mixed. */
export type TemperatureCoefficient =
  | { readonly kind: "relative"; readonly perKelvin: PerKelvin }
  | { readonly kind: "absolute"; readonly voltsPerKelvin: VoltsPerKelvin };

const ALLOWED = "a temperature coefficient in %/K (also 1/K) or in mV/K (also V/K)";

/** Reads "-0.27 %/K" as a relative coefficient and "-134 mV/K" as an absolute one; problems as `parseQuantity` gives them. */
export function parseTemperatureCoefficient(text: string): QuantityResult<TemperatureCoefficient> {
  const absolute = parseQuantity(text, "absolute temperature coefficient");
  if (absolute.ok) return { ok: true, value: { kind: "absolute", voltsPerKelvin: absolute.value } };
  const relative = parseQuantity(text, "relative temperature coefficient");
  if (relative.ok) return { ok: true, value: { kind: "relative", perKelvin: relative.value } };
  return { ok: false, problem: { ...relative.problem, allowed: ALLOWED } };
}

export function formatTemperatureCoefficient(
  coefficient: TemperatureCoefficient,
  options: FormatOptions = {},
): string {
  return coefficient.kind === "relative"
    ? formatQuantity(coefficient.perKelvin, "relative temperature coefficient", options)
    : formatQuantity(coefficient.voltsPerKelvin, "absolute temperature coefficient", options);
}
