import type { Inverter, ModuleType, PvArray, Site } from "../assess/site.ts";
import { type ArrayVoltage, arrayVoltage } from "../limits/array-voltage.ts";
import { shiftDay } from "./calendar.ts";
import type { Case } from "./case.ts";
import type { Choice } from "./candidates.ts";
import type { RulePack } from "./pack.ts";

/** One fact that rules look at: every value it may have, and what the site file lacks if there is more than one. */
export interface Fact {
  readonly name: keyof Case | "region";
  readonly values: readonly (string | number)[];
  readonly missing: readonly string[];
}

/** Work on an array that a rule may attach to. */
export interface Work {
  readonly what: "installed" | "altered";
  readonly done?: string;
  readonly begun?: string;
}

/** Longest time that work on one array is taken to last, in days [design choice]. */
export const LONGEST_WORK_DAYS = 365;

export interface ArrayParts {
  readonly array: PvArray;
  readonly module: ModuleType;
  readonly inverter: Inverter;
  readonly voltage: ArrayVoltage;
  readonly powerWatts: number;
}

/**
 * The array with its module type and inverter.
 *
 * @throws RangeError ASSESS_REFERENCE_UNKNOWN when the array names a module or inverter that the site does not have
 */
export function partsOf(array: PvArray, site: Site): ArrayParts {
  const module = site.modules.find((candidate) => candidate.id === array.module);
  const inverter = site.inverters.find((candidate) => candidate.id === array.inverter);
  if (module === undefined || inverter === undefined)
    throw new RangeError(
      `ASSESS_REFERENCE_UNKNOWN: array ${array.id} names ${module === undefined ? `module ${array.module}` : `inverter ${array.inverter}`}, which the site does not have`,
    );
  const modules = array.strings.reduce((sum, string) => sum + string.modules, 0);
  return {
    array,
    module,
    inverter,
    voltage: arrayVoltage(array, module, inverter, site.lowestTemperature),
    powerWatts: modules * module.pmax,
  };
}

/** Every fact the packs look at, known or not. A fact no row looks at keeps one value, so that it costs no cases. */
export function factsFor(parts: ArrayParts, site: Site, work: Work, choice: Choice): readonly Fact[] {
  const { array, inverter, voltage, powerWatts } = parts;
  const looked = factsLookedAt(choice.packs);
  const one = (name: Fact["name"], value: string | number): Fact => ({ name, values: [value], missing: [] });
  const open = <Value extends string>(
    name: Fact["name"],
    known: Value | undefined,
    all: readonly Value[],
    field: string,
  ): Fact => {
    if (known !== undefined) return one(name, known);
    return looked.has(name) ? { name, values: all, missing: [field] } : one(name, all[0]!);
  };
  return [
    { name: "maxVoltageV", values: voltagePoints(voltage, choice.packs), missing: voltage.missing },
    one("powerKilowatts", powerWatts / 1000),
    one("parallelStrings", array.strings.length),
    open("earthing", array.earthing, ["floating", "functional", "solid"], `arrays ${array.id}: earthing`),
    open("mounting", array.mounting, ["building", "field"], `arrays ${array.id}: mounting`),
    open("separation", inverter.separation, ["none", "simple"], `inverters ${inverter.id}: separation`),
    open("region", site.place.region, regionsOf(site, choice.packs), "site.place.region"),
    dateFact("done", work, array.id, choice, looked),
    dateFact("begun", work, array.id, choice, looked),
  ];
}

function factsLookedAt(packs: readonly RulePack[]): ReadonlySet<Fact["name"]> {
  const names = new Set<Fact["name"]>();
  for (const pack of packs) {
    if (pack.jurisdictions.some((jurisdiction) => jurisdiction.regions !== undefined)) names.add("region");
    for (const { basis } of pack.inForce) names.add(basis === "work-begun" ? "begun" : "done");
    for (const condition of pack.duty.flatMap((row) => row.when)) {
      if (condition.fact === "date" && pack.inForce.length === 0) names.add("done");
      if (condition.fact === "earthing" || condition.fact === "mounting" || condition.fact === "separation")
        names.add(condition.fact);
    }
  }
  return names;
}

function regionsOf(site: Site, packs: readonly RulePack[]): readonly string[] {
  const named = packs
    .flatMap((pack) => pack.jurisdictions)
    .filter((jurisdiction) => jurisdiction.country === site.place.country)
    .flatMap((jurisdiction) => jurisdiction.regions ?? []);
  return [...new Set(named), "another region"];
}

/** One voltage in every band between the lines that rows draw: bands hold their upper end, so the lines themselves do. */
function voltagePoints(voltage: ArrayVoltage, packs: readonly RulePack[]): readonly number[] {
  const lines = packs
    .flatMap((pack) => pack.duty)
    .flatMap((row) => row.when)
    .flatMap((condition) => (condition.fact === "max-voltage" ? [condition.above, condition.atMost] : []))
    .filter((line) => line !== undefined);
  const inside = lines.filter((volts) => volts > voltage.atLeastV && volts < voltage.atMostV);
  return [...new Set([voltage.atLeastV, ...inside, voltage.atMostV])];
}

function dateFact(
  name: "done" | "begun",
  work: Work,
  arrayId: string,
  choice: Choice,
  looked: ReadonlySet<Fact["name"]>,
): Fact {
  const known = work[name];
  if (known !== undefined) return { name, values: [known], missing: [] };
  if (!looked.has(name)) return { name, values: [""], missing: [] };
  const points = datePoints(choice.packs);
  if (name === "done" || work.done === undefined)
    return { name, values: points, missing: [`arrays ${arrayId}: ${work.what}`] };
  const earliest = shiftDay(work.done, -LONGEST_WORK_DAYS);
  const between = points.filter((day) => day > earliest && day < work.done!);
  return {
    name,
    values: [earliest, ...between, work.done],
    missing: [`arrays ${arrayId}: workBegan, the day on which the work began`],
  };
}

/** Both sides of every date line of the packs. */
function datePoints(packs: readonly RulePack[]): readonly string[] {
  const spans = packs.flatMap((pack) => [
    ...pack.inForce,
    ...pack.duty
      .flatMap((row) => row.when)
      .flatMap((condition) => (condition.fact === "date" ? [condition] : [])),
  ]);
  const points = spans.flatMap(({ from, until }) => [
    ...(from === undefined ? [] : [shiftDay(from, -1), from]),
    ...(until === undefined ? [] : [until, shiftDay(until, 1)]),
  ]);
  return [...new Set(points)].sort();
}
