import type { Path, PvArray, Site } from "../assess/site.ts";
import { runningShare } from "../detector-coverage/running-share.ts";
import type { Provenance } from "../provenance.ts";
import type { Assumed } from "./assumed.ts";
import { NOTICE_ASSUMPTIONS as assume } from "./assumptions.ts";
import type { NoticeDetector } from "./notice-model.ts";

export const RULE_OF_PROGRAM: Provenance = { source: "rule of this program", tag: "design choice" };

/** Whole per cent; a tenth where it would round to nothing. */
const percent = (share: number): string => `${Number((100 * share).toFixed(share < 0.005 ? 1 : 0))} %`;

/** Of several arrays the one that is seen least decides. */
function seenRunning(site: Site, arrays: readonly PvArray[], hardShare: number): number {
  const shares = arrays.flatMap((array) => {
    const module = site.modules.find(({ id }) => id === array.module);
    const inverter = site.inverters.find(({ id }) => id === array.inverter);
    return module === undefined || inverter === undefined
      ? []
      : [runningShare({ array, module, inverter, hardShare })];
  });
  return shares.length === 0 ? 0 : Math.min(...shares);
}

/**
 * The weakest detector among the inverters served decides. Where an interrupter watches the array and no insulation check
 * is stated, the interrupter is the detector, and what it does not see is never seen.
 */
export function detectorOf(site: Site, paths: readonly Path[], assumed: Assumed): NoticeDetector {
  const ids = new Set(paths.flatMap((path) => path.arrays));
  const arrays = site.arrays.filter((array) => ids.has(array.id));
  const served = site.inverters.filter(({ id }) => arrays.some((array) => array.inverter === id));
  const checks = served.map(({ id, insulationCheck, earthFaultInterrupter }) => {
    const earthed = arrays.some((array) => array.inverter === id && array.earthing !== "floating");
    const interrupted = earthed && earthFaultInterrupter !== undefined;
    return insulationCheck === undefined && interrupted ? [] : insulationCheck?.at;
  });
  const unknown = checks.length === 0 || checks.includes(undefined);
  if (unknown) assumed.add("insulation is checked at start only", RULE_OF_PROGRAM);
  const atStart = checks.every((at) => at === undefined || at.length > 0);
  if (!atStart)
    assumed.add("a fault that is not seen while the inverter runs is never seen", RULE_OF_PROGRAM);
  const stated = site.assumptions?.hardFaults;
  const share = seenRunning(site, arrays, stated ?? assume.hardFaultShare.value);
  if (share > 0) {
    const hard = assume.hardFaultShare.value * 100;
    assumed.orElse<number>(
      stated,
      assume.hardFaultShare,
      `${hard} % of faults are below 1 kΩ when they appear`,
    );
    assumed.add(
      `${percent(share)} of faults are seen at once while the inverter runs, each place alike, and each decade of resistance below 1 kΩ, and above it`,
      { source: "coverage map of the detectors stated", tag: "computed" },
    );
  }
  return {
    atStart,
    continuous: !unknown && checks.every((at) => at?.includes("continuous") === true),
    residualShare: share,
    startAfterSunriseMin: assume.startAfterSunriseMin.value,
  };
}
