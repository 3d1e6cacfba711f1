import { healthyFloor, WET_LEAKAGE_FLOOR } from "../limits/healthy-floor.ts";
import { insulationTest } from "../limits/insulation-test.ts";
import { leakInsulation, residualLimit } from "../limits/residual-limit.ts";
import { insulationThreshold } from "../limits/threshold.ts";
import type { SquareMetres, Volts } from "../quantity/index.ts";
import type { DutyWithPacks } from "../rules/decide-work.ts";
import type { ArrayParts } from "../rules/known-facts.ts";
import type { RulePack } from "../rules/pack.ts";
import type { ArrayAssessment } from "./assessment.ts";

/**
 * The insulation below which the alarm must operate: by the packs that may bind if they agree, else the inverter's own
 * limit, else IEC 62109-2's V/30 mA for a floating array; null when none of these is known. Where one of the packs that may
 * bind has no table, the higher of the others' and V/30 mA.
 */
export function thresholdOf(parts: ArrayParts, duty: DutyWithPacks): ArrayAssessment["insulationThreshold"] {
  const { array, inverter } = parts;
  // A solidly earthed array has no insulation to measure.
  if (array.earthing === "solid") return null;
  const byPack = duty.packs.flatMap(({ insulationThreshold: table }) => {
    const found =
      table === undefined
        ? null
        : insulationThreshold(table, parts.powerWatts / 1000, inverter.ratedPower / 1000);
    return found === null ? [] : [found];
  });
  const first = byPack[0];
  if (first !== undefined) {
    if (byPack.some((other) => other.ohms.value !== first.ohms.value)) return null;
    const { value, source, tag } = byPack.at(-1)!.ohms;
    const { otherwise } = first;
    const least = byPack.length < duty.packs.length ? leastOf(parts) : null;
    if (least !== null && least.ohms > Math.max(value, otherwise?.ohms.value ?? 0)) return least;
    return {
      ohms: value,
      source,
      tag,
      ...(otherwise === undefined
        ? {}
        : { otherwise: { ohms: otherwise.ohms.value, rating: otherwise.rating } }),
    };
  }
  const own = inverter.insulationCheck?.threshold;
  if (own !== undefined)
    return { ohms: own, source: `inverters ${inverter.id}: insulationCheck.threshold`, tag: "user" };
  return leastOf(parts);
}

/** V/30 mA of a floating array, upwards to the ohm because the limit is a least value. */
function leastOf({ array, voltage }: ArrayParts): ArrayAssessment["insulationThreshold"] {
  if (voltage.max === null || array.earthing !== "floating") return null;
  const { value, source, tag } = leakInsulation(voltage.max.volts, "iec-62109-2");
  return { ohms: Math.ceil(value), source, tag };
}

/** null where modules have power electronics of their own: what may be applied there is the maker's to say. */
export function testOf(parts: ArrayParts, duty: DutyWithPacks): ArrayAssessment["insulationTest"] {
  if (hasModuleElectronics(parts)) return null;
  return insulationTest(longestVoc(parts), ownTable(duty, "insulationTest"));
}

/** Open-circuit voltage of the longest string at standard test conditions, which chooses the row of the insulation test. */
export function longestVoc({ array, module }: ArrayParts): Volts {
  return (Math.max(...array.strings.map(({ modules }) => modules)) * module.voc) as Volts;
}

/** null behind a separating transformer, where the standard relieves the inverter of the limit under its conditions. */
export function residualOf(parts: ArrayParts, duty: DutyWithPacks): ArrayAssessment["residualLimit"] {
  if (parts.inverter.separation === "simple") return null;
  return residualLimit(parts.inverter.ratedPower, ownTable(duty, "residual"));
}

/** A table is a pack's only when it is settled which pack binds. */
function ownTable<Table extends "insulationTest" | "residual">(
  duty: DutyWithPacks,
  table: Table,
): RulePack[Table] | undefined {
  return duty.packs.find((pack) => pack.id === duty.rulePack)?.[table];
}

export function areaOf({ array, module }: ArrayParts): number | null {
  if (module.area === undefined) return null;
  const modules = array.strings.reduce((sum, string) => sum + string.modules, 0);
  return Math.round(modules * module.area * 1e6) / 1e6;
}

export function floorOf(
  areaM2: number | null,
  thresholdOhms: number | null,
): ArrayAssessment["healthyFloor"] {
  if (areaM2 === null) return null;
  const ohms = healthyFloor(areaM2 as SquareMetres);
  return {
    ohms: Math.round(ohms),
    marginToThreshold: thresholdOhms === null ? null : Math.round((ohms / thresholdOhms) * 100) / 100,
    source: `${WET_LEAKAGE_FLOOR.source}, 40 MΩ·m² over the module area`,
    tag: WET_LEAKAGE_FLOOR.tag,
  };
}

export function hasModuleElectronics({ inverter }: ArrayParts): boolean {
  return inverter.kind === "microinverter" || inverter.kind === "ac-module" || inverter.kind === "dc-dc";
}
