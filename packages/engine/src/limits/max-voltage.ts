import type { ModuleType } from "../assess/site.ts";
import type { Tag } from "../provenance.ts";
import { type Celsius, formatQuantity, type Volts } from "../quantity/index.ts";
import { temperatureFactor } from "./temperature-factor.ts";

export interface MaxVoltage {
  readonly volts: Volts;
  readonly method: "coefficient" | "table" | "stated";
  readonly temperatureC: number;
  readonly text: string;
  readonly source: string;
  readonly tag: Tag;
}

export type MaxVoltageResult =
  | { readonly known: true; readonly max: MaxVoltage }
  /** `missing` names fields of the site file, and what they must hold. */
  | { readonly known: false; readonly missing: readonly string[] };

/**
 * The one way in which a highest voltage is rounded, to the hundredth of a volt; texts and figures both start from it, so
 * that no two places print two values.
 */
export function voltageToPrint(volts: number): Volts {
  return (Math.round(volts * 100) / 100) as Volts;
}

/** Digits with which a highest voltage is written. */
export const VOLTAGE_DIGITS = 5;

/** `745.15 V`. */
export function voltageText(volts: number): string {
  return formatQuantity(voltageToPrint(volts), "voltage", { significant: VOLTAGE_DIGITS });
}

const COEFFICIENT_RULE = "NEC since 2008, iaeimagazine.org 2009 January, PV math: coefficient before table";

/**
 * Highest open-circuit voltage of modules in series on the coldest day.
 *
 * Model: V = n · Voc · (1 + β (T − 25)), β per kelvin, or V = n · (Voc + b (T − 25)), b in volts per kelvin. Where no
 * coefficient is given: V = n · Voc · table factor, for crystalline silicon only and not below −40 °C.
 * Assumes: cell temperature equal to the lowest ambient temperature, standard irradiance.
 *
 * @param modulesInSeries  ≥ 1
 * @param lowestAmbient    lowest ambient temperature of the place [°C]
 * @returns what is missing instead of a guess when neither way is open; a coefficient that is not negative is refused
 * Source: formula [published: iaeimagazine.org/2009/january2009/pv-math]; table [memory], see temperature-factor.ts
 * Check: checks/max-voltage
 * @example 14 modules of 49.5 V with −0.27 %/K at −10 °C: 758.5 V; by table 790.0 V
 */
export function maxArrayVoltage(
  module: ModuleType,
  modulesInSeries: number,
  lowestAmbient: Celsius,
): MaxVoltageResult {
  const ratedVolts = modulesInSeries * module.voc;
  const relative = relativeCoefficient(module);
  if (relative !== null) {
    if (relative >= 0)
      return {
        known: false,
        missing: [
          `modules ${module.id}: vocTemperatureCoefficient must be negative, it is ${relative} per K`,
        ],
      };
    const factor = 1 + relative * (lowestAmbient - 25);
    return found(ratedVolts * factor, "coefficient", lowestAmbient, {
      text: `${modulesInSeries} × ${module.voc} V × ${factor.toFixed(4)} at ${lowestAmbient} °C, from the coefficient of module ${module.id}`,
      source: COEFFICIENT_RULE,
      tag: "published",
    });
  }
  return byTable(module, modulesInSeries, lowestAmbient);
}

/** Relative change per kelvin whichever way it was stated; null when it was not. */
function relativeCoefficient(module: ModuleType): number | null {
  const coefficient = module.vocTemperatureCoefficient;
  if (coefficient === undefined) return null;
  return coefficient.kind === "relative" ? coefficient.perKelvin : coefficient.voltsPerKelvin / module.voc;
}

function byTable(module: ModuleType, modulesInSeries: number, lowestAmbient: Celsius): MaxVoltageResult {
  const field = `modules ${module.id}: vocTemperatureCoefficient`;
  if (module.technology === undefined)
    return { known: false, missing: [`${field}, or technology: crystalline-silicon for the table`] };
  if (module.technology !== "crystalline-silicon")
    return { known: false, missing: [`${field} (the table holds for crystalline silicon only)`] };
  const factor = temperatureFactor(lowestAmbient);
  if (factor === null) return { known: false, missing: [`${field} (the table ends at −40 °C)`] };
  return found(modulesInSeries * module.voc * factor.value, "table", lowestAmbient, {
    text: `${modulesInSeries} × ${module.voc} V × ${factor.value} at ${lowestAmbient} °C, from the table because module ${module.id} states no coefficient`,
    source: factor.source,
    tag: factor.tag,
  });
}

function found(
  volts: number,
  method: MaxVoltage["method"],
  temperatureC: number,
  reason: { readonly text: string; readonly source: string; readonly tag: Tag },
): MaxVoltageResult {
  // To the microvolt: a limit met exactly in decimals must not be passed by binary rounding.
  const rounded = Math.round(volts * 1e6) / 1e6;
  return { known: true, max: { volts: rounded as Volts, method, temperatureC, ...reason } };
}
