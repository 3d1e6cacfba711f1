import type { PathAssessment } from "../assess/assessment.ts";
import type { Path } from "../assess/site.ts";
import type { PathContext } from "./context.ts";
import { judgeDetector } from "./detector.ts";
import { judgeNotice } from "./expected-notice.ts";
import { judgeSignal } from "./judge-signal.ts";
import { findingOf, verdictOf } from "./judgement.ts";
import { judgeProof } from "./proof.ts";

export { PATH_CODES, type PathCode } from "./codes.ts";
export type { PathCodeEntry } from "./code-entry.ts";
export type { PathContext } from "./context.ts";
export { batteryCapacityAh, standbyHours } from "./battery.ts";
export { cableLoopResistance, type LoadVoltage, loadVoltage } from "./cable.ts";
export {
  effectiveIntensity,
  FLASH_RATES,
  type FlashRate,
  flashRate,
  illuminanceAt,
  LIGHT_THRESHOLDS,
  type Scene,
  sightDistance,
} from "./light.ts";
export { LIGHT_DEFAULTS, type LightReach, lightReach } from "./light-reach.ts";
export { type NoticeReport, noticeReport } from "./notice-report.ts";
export { type SiteNotice, siteNotice } from "./site-notice.ts";
export { ABOVE_AMBIENT, GREATEST_LEVEL, LEAST_LEVEL, soundAt } from "./sound.ts";
export {
  BEDHEAD_LEVEL,
  type Hearing,
  hearing,
  type HearingByHour,
  hearingByHour,
  levelsTogether,
  mayRouse,
  type Sounder,
  soundscapeLevel,
} from "./soundscape.ts";

/**
 * Judge one path from detector over signal to person.
 *
 * Missing data are judged at their worst with a finding that says so, or leave the verdict at cannot-tell; no default
 * passes for data.
 *
 * @param context.onDate  the day it is judged for; without it the age of proofs, ended posts and absences is not judged
 * @returns the verdict and every finding, each with its code, severity, figures, source and tag
 */
export function judgePath(path: Path, context: PathContext): PathAssessment {
  const found = [...judgeDetector(path, context), ...judgeSignal(path, context)];
  const remarks = [...found, ...judgeNotice(path, context, found), ...judgeProof(path, context)];
  return {
    path: path.id,
    signal: path.signal,
    verdict: verdictOf(remarks),
    findings: remarks.map(findingOf),
  };
}
