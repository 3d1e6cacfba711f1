import { insulationTestRowAt, systemVoltageOf } from "../limits/insulation-test.ts";
import { residualRowAt } from "../limits/residual-limit.ts";
import { insulationThreshold } from "../limits/threshold.ts";
import { packsWith } from "../rules/built-in-packs.ts";
import { decideDuty, packsOfWorks } from "../rules/decide.ts";
import type { DutyWithPacks } from "../rules/decide-work.ts";
import { type ArrayParts, partsOf } from "../rules/known-facts.ts";
import { type OverridableValue, overridableValues } from "../rules/overridable-values.ts";
import type { DutyRow, RulePack } from "../rules/pack.ts";
import { hasModuleElectronics, longestVoc } from "./array-limits.ts";
import type { PvArray, Site } from "./site.ts";

/** limits: thresholds and test values alone, as a commissioning uses them; verdicts: duty and what the alarm must do. */
type RulesAsked = "everything" | "limits" | "verdicts";

/** What of one rule pack the answers about a site rest on. */
export interface RulesUsed {
  readonly pack: RulePack;
  /** The rows that decide the duty, read from the top; empty where the duty is not asked. */
  readonly duty: readonly DutyRow[];
  /** Its numbers that are used, the bounds of those rows included, in the order of the pack. */
  readonly values: readonly OverridableValue[];
}

/**
 * The values of rule packs that the answers about a site rest on: of the packs that may bind there alone, and of their tables
 * only the rows that the arrays fall in.
 *
 * @param own    rule packs, as in `assessSite`
 * @param array  this array only; left out: every one
 * @throws RangeError ASSESS_REFERENCE_UNKNOWN when an array names a module or inverter that the site does not have
 */
export function rulesUsed(
  site: Site,
  own: readonly RulePack[],
  asked: RulesAsked = "everything",
  array?: string,
): readonly RulesUsed[] {
  const packs = packsWith(own);
  const used = new Map<RulePack, Set<string>>();
  for (const one of site.arrays.filter(({ id }) => array === undefined || id === array))
    for (const [pack, fields] of fieldsUsed(one, site, packs, asked)) {
      const known = used.get(pack) ?? new Set();
      for (const field of fields) known.add(field);
      used.set(pack, known);
    }
  return packs.flatMap((pack) => {
    const fields = used.get(pack);
    if (fields === undefined) return [];
    const values = overridableValues(pack).filter(({ field }) => fields.has(field));
    return [{ pack, duty: asked === "limits" ? [] : pack.duty, values }];
  });
}

function fieldsUsed(
  array: PvArray,
  site: Site,
  held: readonly RulePack[],
  asked: RulesAsked,
): readonly (readonly [RulePack, readonly string[]])[] {
  const parts = partsOf(array, site);
  const duty = decideDuty(array, site, held);
  const verdicts = (pack: RulePack): readonly string[] =>
    asked === "limits" ? [] : [...dutyBounds(pack), ...alarmFields(array, site, duty, pack)];
  const limits = (pack: RulePack): readonly string[] =>
    asked === "verdicts" || !duty.packs.includes(pack) ? [] : limitFields(parts, duty, pack);
  // An altered array is judged for both of its works, whichever of them has the last word.
  const looked = array.altered === undefined ? duty.packs : packsOfWorks(array, site, held);
  return looked.map((pack) => [pack, [...verdicts(pack), ...limits(pack)]]);
}

function dutyBounds(pack: RulePack): readonly string[] {
  return overridableValues(pack)
    .map(({ field }) => field)
    .filter((field) => field.startsWith("duty["));
}

/** Only messages are held against numbers of the alarm, and only where the pack requires it. */
function alarmFields(
  { id }: PvArray,
  { paths }: Site,
  { alarm, rulePack }: DutyWithPacks,
  pack: RulePack,
): readonly string[] {
  const tells = paths.some(({ signal, arrays }) => signal === "message" && arrays.includes(id));
  if (alarm !== "required" || rulePack !== pack.id || !tells) return [];
  return ["alarm.leastAddresses", "alarm.repeatEveryMinutes"];
}

function limitFields(parts: ArrayParts, { rulePack }: DutyWithPacks, pack: RulePack): readonly string[] {
  return [
    ...thresholdFields(parts, pack),
    // A table of limits is a pack's only when it is settled which pack binds.
    ...(pack.id === rulePack ? [...residualFields(parts, pack), ...testFields(parts, pack)] : []),
  ];
}

function thresholdFields(
  { array, inverter, powerWatts }: ArrayParts,
  { insulationThreshold: table }: RulePack,
): readonly string[] {
  if (array.earthing === "solid" || table === undefined) return [];
  const found = insulationThreshold(table, powerWatts / 1000, inverter.ratedPower / 1000);
  return [found?.ohms, found?.otherwise?.ohms]
    .map((ohms) => table.rows.findIndex((row) => row.ohms === ohms))
    .filter((at) => at >= 0)
    .map((at) => `insulationThreshold.rows[${at}].ohms`);
}

function residualFields({ inverter }: ArrayParts, { residual = [] }: RulePack): readonly string[] {
  if (inverter.separation === "simple") return [];
  const row = residualRowAt(residual, inverter.ratedPower / 1000);
  if (row === undefined) return [];
  const at = residual.indexOf(row);
  return [`residual[${at}].milliamps`, `residual[${at}].milliampsPerKilovoltampere`];
}

function testFields(parts: ArrayParts, { insulationTest = [] }: RulePack): readonly string[] {
  if (hasModuleElectronics(parts)) return [];
  const row = insulationTestRowAt(insulationTest, systemVoltageOf(longestVoc(parts)));
  if (row === undefined) return [];
  const at = insulationTest.indexOf(row);
  return [`insulationTest[${at}].testVoltage`, `insulationTest[${at}].minimumOhms`];
}
