import type { ArrayDescription, ArrayString, ModuleSource } from "../circuit/index.ts";
import { solveArray } from "../circuit/index.ts";
import type { CoverageArray, CoverageEarthing } from "./coverage-array.ts";

type Earthed = Extract<CoverageEarthing, { readonly kind: "functional" | "solid" }>;

/**
 * Residual current of a fault while a non-isolated inverter runs: |U(x) − share · U| / R_f.
 *
 * The inverter holds the array about its share of earth; the module's own resistance is left out, so a very low fault
 * resistance gives more than can flow, which is far over any trip level.
 * @param at  position in modules from the negative end
 * @returns [A]
 * Source: Ohm's law. Check: checks/coverage-ngspice
 */
export function residualCurrentA(
  array: CoverageArray,
  at: number,
  faultOhms: number,
  earthAtShare = 0.5,
): number {
  const fromEarth = Math.abs(at - earthAtShare * array.modulesPerString) * array.moduleRunningV;
  return fromEarth / faultOhms;
}

/** Many equal modules side by side as one. */
function inParallel(module: ModuleSource, count: number): ModuleSource {
  if (module.kind === "linear") return { ...module, sourceOhms: module.sourceOhms / count };
  return {
    ...module,
    lightA: module.lightA * count,
    saturationA: module.saturationA * count,
    seriesOhms: module.seriesOhms / count,
    shuntOhms: module.shuntOhms / count,
  };
}

/** Equal modules in series as one: the same current, and the voltages of all. */
function inSeries(module: ModuleSource, count: number): ModuleSource {
  if (module.kind === "linear")
    return { ...module, openCircuitV: module.openCircuitV * count, sourceOhms: module.sourceOhms * count };
  return {
    ...module,
    slopeV: module.slopeV * count,
    seriesOhms: module.seriesOhms * count,
    shuntOhms: module.shuntOhms * count,
  };
}

/** `count` equal strings as one, its modules taken together in runs from the negative end. */
function stringOf(id: string, runs: readonly number[], earthed: Earthed, count: number): ArrayString {
  const lead = earthed.leadOhms / count;
  const module = inParallel(earthed.module, count);
  return {
    id,
    modules: runs.map((run) => inSeries(module, run)),
    homeRunOhms: earthed.pole === "-" ? { negative: lead, positive: 0 } : { negative: 0, positive: lead },
  };
}

/** The array with one fault on one string: only the fault's place parts the modules, so that a map is quick to work out. */
function described(array: CoverageArray, earthed: Earthed, at: number, faultOhms: number): ArrayDescription {
  const others = array.strings - 1;
  const runs = [at, array.modulesPerString - at].filter((run) => run > 0);
  return {
    strings: [
      stringOf("faulty", runs, earthed, 1),
      ...(others > 0 ? [stringOf("others", [array.modulesPerString], earthed, others)] : []),
    ],
    faults: [{ place: { string: "faulty", at: at > 0 ? 1 : 0 }, ohms: faultOhms }],
    earthing: { pole: earthed.pole, ohms: earthed.ohms },
    loadOhms: earthed.loadOhms,
  };
}

/**
 * Current through the earth connection of an earthed array with one fault, while it runs.
 *
 * Solved as a network, as the current of a low-resistance fault is limited by what the modules give. On the earthed
 * conductor only the drop along its own lead drives current: the blind spot.
 * @returns [A], size only
 * Check: checks/coverage-ngspice
 */
export function earthCurrentA(array: CoverageArray, earthed: Earthed, at: number, faultOhms: number): number {
  return Math.abs(solveArray(described(array, earthed, at, faultOhms)).earthingCurrentA);
}

/**
 * Difference between the two pole voltages to earth as a share of their sum, for a floating array with one fault.
 *
 * The balanced healthy insulation and the monitor's own inputs pull towards the middle, the fault to its place.
 */
export function asymmetryShare(
  array: CoverageArray,
  at: number,
  faultOhms: number,
  inputOhms: number,
): number {
  const fault = 1 / faultOhms;
  const balanced = 2 / inputOhms + (array.healthyOhms === undefined ? 0 : 1 / array.healthyOhms);
  const place = at / array.modulesPerString;
  const centroid = (fault * place + balanced * 0.5) / (fault + balanced);
  return Math.abs(1 - 2 * centroid);
}
