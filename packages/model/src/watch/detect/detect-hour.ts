import type { SunOfDay } from "../time/sunrise.ts";
import { daysLater, instantOf, localTime } from "../time/zone.ts";
import { judgeDays } from "./day-rules.ts";
import { type Detection, detection } from "./decision.ts";
import type { ArrayLimits, DetectorState } from "./detector-state.ts";
import { type DriftRule, medianDrift } from "./drift.ts";
import { checkDueAt, judgeMorningCheck } from "./morning-check.ts";

/**
 * What the passing of time changes about an array: a check that did not come, mornings that fall out of the count.
 *
 * @param sun  of the local date of `now` (`sunOfDay`)
 * @returns nextLookAt: the instant at which to ask again; the end of this or the next morning
 */
export function detectHour(
  state: DetectorState,
  limits: ArrayLimits,
  now: number,
  sun: SunOfDay,
  rule: DriftRule = medianDrift,
): Detection & { readonly nextLookAt: number } {
  const { date } = localTime(now, limits.zone);
  const checked = judgeMorningCheck(state, limits, now, sun);
  const judged = judgeDays(checked.state, limits, rule, now);
  const result = detection(judged.state, [checked.decision, ...judged.decisions], `hour ${now}`);
  const today = checkDueAt(date, limits, sun);
  const tomorrow = instantOf(daysLater(date, 1), limits.watch.morningEndsMin.value, limits.zone);
  return { ...result, nextLookAt: today !== null && today > now ? today : tomorrow };
}
