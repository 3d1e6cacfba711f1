export { locate } from "./locate.ts";
export { describeReading } from "./describe-reading.ts";
export { explain, type Explanation } from "./explain.ts";
export { handRules } from "./hand-rule.ts";
export { DEFAULT_PLACE_WEIGHTS, DEFAULTS as FINDER_DEFAULTS } from "./priors.ts";
export { READING_CODES } from "./reading-codes.ts";
export { COMMIT } from "./verdict.ts";
export type * from "./visit.ts";
export type * from "./finding.ts";
