export { type AssessOptions, assessSite } from "./assess.ts";
export type * from "./assessment.ts";
export { SITE_CODES, type SiteCode } from "./codes.ts";
export { type RulesUsed, rulesUsed } from "./rules-used.ts";
export type * from "./site.ts";
export type { SiteCodeEntry } from "./site-codes.ts";
