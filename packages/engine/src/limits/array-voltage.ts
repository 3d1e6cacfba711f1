import type { Inverter, ModuleType, PvArray } from "../assess/site.ts";
import type { Celsius, Volts } from "../quantity/index.ts";
import { type MaxVoltage, maxArrayVoltage, voltageText } from "./max-voltage.ts";

/** The highest voltage of an array as far as it is known. */
export interface ArrayVoltage {
  /** null when it cannot be worked out; the bounds below still hold. */
  readonly max: MaxVoltage | null;
  readonly atLeastV: number;
  readonly atMostV: number;
  /** Fields of the site file that would make it known. */
  readonly missing: readonly string[];
}

/** Colder than any place on earth has been: a bound for a temperature that is not stated. The table ends long before. */
const COLDEST_PLACE_C = -90 as Celsius;
const STC_C = 25;

/**
 * Highest voltage of an array on the coldest day, or bounds for it and what is missing.
 *
 * The longest string counts. Behind DC-DC units the modules' sum says nothing, so only a stated voltage will do; behind
 * microinverters and in AC modules a "string" is what hangs on one input.
 *
 * @param lowestTemperature  of the place [°C]; undefined: the voltage lies between its rated value and that at −90 °C
 * Check: checks/max-voltage
 */
export function arrayVoltage(
  array: PvArray,
  module: ModuleType,
  inverter: Inverter,
  lowestTemperature: Celsius | undefined,
): ArrayVoltage {
  if (array.statedMaxVoltage !== undefined) return stated(array, array.statedMaxVoltage, lowestTemperature);
  const longest = Math.max(...array.strings.map((string) => string.modules));
  switch (inverter.kind) {
    case "dc-dc":
      return unknown(0, Infinity, [
        `arrays ${array.id}: statedMaxVoltage, the highest string voltage by the maker of the DC-DC units`,
      ]);
    case "microinverter":
    case "ac-module":
      return perInput(array, module, longest, lowestTemperature);
    default:
      return series(module, longest, lowestTemperature);
  }
}

function stated(array: PvArray, volts: Volts, temperature: Celsius | undefined): ArrayVoltage {
  const max: MaxVoltage = {
    volts,
    method: "stated",
    temperatureC: temperature ?? STC_C,
    text: `${voltageText(volts)}, stated for array ${array.id}`,
    source: `arrays ${array.id}: statedMaxVoltage`,
    tag: "user",
  };
  return { max, atLeastV: volts, atMostV: volts, missing: [] };
}

/** One module on an input is plain; with more it is not known how many of them are in series. */
function perInput(
  array: PvArray,
  module: ModuleType,
  longest: number,
  temperature: Celsius | undefined,
): ArrayVoltage {
  const one = series(module, 1, temperature);
  if (longest === 1) return one;
  const all = series(module, longest, temperature);
  return unknown(one.atLeastV, all.atMostV, [
    `arrays ${array.id}: strings, one for each microinverter input with the modules in series on it`,
    ...all.missing,
  ]);
}

function series(module: ModuleType, modules: number, temperature: Celsius | undefined): ArrayVoltage {
  const rated = modules * module.voc;
  if (temperature === undefined) {
    const coldest = maxArrayVoltage(module, modules, COLDEST_PLACE_C);
    return unknown(rated, coldest.known ? coldest.max.volts : Infinity, [
      "site.lowestTemperature",
      ...(coldest.known || module.technology === "crystalline-silicon" ? [] : coldest.missing),
    ]);
  }
  const result = maxArrayVoltage(module, modules, temperature);
  if (!result.known) return unknown(temperature <= STC_C ? rated : 0, Infinity, result.missing);
  return { max: result.max, atLeastV: result.max.volts, atMostV: result.max.volts, missing: [] };
}

function unknown(atLeastV: number, atMostV: number, missing: readonly string[]): ArrayVoltage {
  return { max: null, atLeastV, atMostV, missing };
}
