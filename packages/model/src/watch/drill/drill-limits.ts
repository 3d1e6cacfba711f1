import { PROOF_HOLDS_MONTHS } from "@earthbell/engine";
import { type Limit, ours } from "../limit.ts";

/** The limits of drills. They stand alone because a page that tells of drills needs no others. */
export const DRILL_LIMITS = {
  /** Every recipient of a drill acknowledges within this time. */
  drillAnswerMin: { value: 1440, unit: "min", ...ours },
  /**
   * A drill keeps a beacon lit for so long at the most: a lamp that burns for a drill does not show by burning that a fault
   * has come meanwhile.
   */
  drillBeaconMin: { value: 60, unit: "min", ...ours },
  /** A passed drill proves its path for this long. */
  drillHoldsMonths: { value: PROOF_HOLDS_MONTHS, unit: "months", ...ours },
} as const satisfies Readonly<Record<string, Limit>>;
