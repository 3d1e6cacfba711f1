import type { Inverter, ModuleType, PvArray } from "../assess/site.ts";
import { residualLimit } from "../limits/residual-limit.ts";
import type { CoverageMap } from "./coverage-map.ts";
import { siteCoverage } from "./site-coverage.ts";

export interface RunningShareInput {
  readonly array: PvArray;
  readonly module: ModuleType;
  readonly inverter: Inverter;
  /** Share of faults that are hard when they appear, 0 to 1. */
  readonly hardShare: number;
}

/** A fault below this is called hard [Ω] [design choice]. */
const HARD_BELOW_OHMS = 1000;

/** Of the faults of some resistances, the share that is seen at once while running: of all, or of those seen at all. */
function atOnceOf(map: CoverageMap, hard: boolean, ofSeen: boolean): number {
  const cells = map.cells.running.flatMap((row) =>
    row.filter((_, i) => map.faultOhms[i]! < HARD_BELOW_OHMS === hard),
  );
  const counted = ofSeen ? cells.filter(({ soon }) => soon !== "never") : cells;
  const atOnce = counted.filter(({ soon }) => soon === "at-once").length;
  return counted.length === 0 ? 0 : atOnce / counted.length;
}

/**
 * Share of faults that are seen at once while the inverter runs, by its residual-current monitor or by an interrupter in
 * the earth connection, 0 to 1: what the time to notice may count on.
 *
 * From the coverage map: the stated share of hard faults, below 1 kΩ, and the rest above it; on either side each place and
 * each decade of resistance counts alike. Where the insulation check's limit is known, the shares are of the faults that
 * something sees at all, because only those are ever noticed; else of all from 1 Ω to 100 kΩ, which is the lower figure. A
 * detector that is not stated counts for nothing.
 * Source: rule of this program [design choice]; the map's own check is checks/coverage-ngspice
 */
export function runningShare(input: RunningShareInput): number {
  const { array, inverter, hardShare } = input;
  const watched = inverter.residualMonitor === true || inverter.earthFaultInterrupter !== undefined;
  if (!watched || array.earthing === undefined) return 0;
  const limit = inverter.separation === "simple" ? null : residualLimit(inverter.ratedPower);
  const { map } = siteCoverage({
    ...input,
    assessment: { insulationThreshold: null, residualLimit: limit, areaM2: null },
  });
  if (map === null) return 0;
  const limited = inverter.insulationCheck?.threshold !== undefined && array.earthing !== "solid";
  return hardShare * atOnceOf(map, true, limited) + (1 - hardShare) * atOnceOf(map, false, limited);
}
