export type { Decision, Detection } from "./decision.ts";
export { detectHour } from "./detect-hour.ts";
export { detectReading } from "./detect-reading.ts";
export {
  type ArrayLimits,
  type ArraySign,
  type DetectorState,
  forgetDevice,
  forgetMornings,
  newDetectorState,
  UNKNOWN_ARRAY_LIMITS,
} from "./detector-state.ts";
export { type DailyMinimum, type DriftAnswer, type DriftRule, medianDrift } from "./drift.ts";
