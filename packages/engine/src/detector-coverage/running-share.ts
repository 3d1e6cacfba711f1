import type { Inverter, ModuleType, PvArray } from "../assess/site.ts";
import { residualLimit } from "../limits/residual-limit.ts";
import { siteCoverage } from "./site-coverage.ts";

export interface RunningShareInput {
  readonly array: PvArray;
  readonly module: ModuleType;
  readonly inverter: Inverter;
}

/**
 * Share of faults that are seen at once while the inverter runs, by its residual-current monitor or by an interrupter in
 * the earth connection, 0 to 1: what the time to notice may count on.
 *
 * From the coverage map, each place and each decade of resistance counting alike. Where the insulation check's limit is
 * known, the share is of the faults that something sees at all, because only those are ever noticed; else of all from
 * 1 Ω to 100 kΩ, which is the lower figure. A detector that is not stated counts for nothing.
 * Source: rule of this program [design choice]; the map's own check is checks/coverage-ngspice
 */
export function runningShare(input: RunningShareInput): number {
  const { array, inverter } = input;
  const watched = inverter.residualMonitor === true || inverter.earthFaultInterrupter !== undefined;
  if (!watched || array.earthing === undefined) return 0;
  const limit = inverter.separation === "simple" ? null : residualLimit(inverter.ratedPower);
  const { map } = siteCoverage({
    ...input,
    assessment: { insulationThreshold: null, residualLimit: limit, areaM2: null },
  });
  if (map === null) return 0;
  const { running } = map.shares;
  const limited = inverter.insulationCheck?.threshold !== undefined && array.earthing !== "solid";
  return limited && running.never < 1 ? running["at-once"] / (1 - running.never) : running["at-once"];
}
