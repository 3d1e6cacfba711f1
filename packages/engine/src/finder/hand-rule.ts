import type { HandRule } from "./finding.ts";
import type { Visit } from "./visit.ts";

/** Below this share of the open-circuit voltage the rule has nothing to go on (design choice). */
const TOO_LITTLE = 0.1;

/**
 * The trade's proportional rule, for comparison: modules from the negative end = N·|V−| / (|V+| + |V−|).
 * It takes all leakage to be the fault, so it drifts to mid-string as the healthy leakage's share grows.
 */
export function handRules(visit: Visit): HandRule[] {
  return visit.strings.flatMap((spec): HandRule[] => {
    const own = visit.readings.filter(
      (reading) =>
        reading.kind === "voltage" &&
        reading.on === spec.id &&
        reading.segment === undefined &&
        reading.shunt === undefined,
    );
    const find = (from: string, to: string): number | undefined =>
      own.find((reading) => reading.from === from && reading.to === to)?.value;
    const plus = find("+", "earth");
    const minus = find("-", "earth");
    if (plus === undefined || minus === undefined) return [];
    const across = find("+", "-");
    if (across !== undefined && plus + minus < TOO_LITTLE * across)
      return [
        {
          string: spec.id,
          at: null,
          why: "the two readings are under a tenth of + to −: no hard fault shows, so the rule gives no place",
        },
      ];
    if (plus + minus === 0)
      return [{ string: spec.id, at: null, why: "both readings are zero: nothing to divide" }];
    return [
      {
        string: spec.id,
        at: (spec.modules * minus) / (plus + minus),
        why: "modules from the negative end, all leakage taken to be the fault",
      },
    ];
  });
}
