export type * from "./quantity/index.ts";
export type * from "./provenance.ts";
export type * from "./assess/site.ts";
export type * from "./assess/assessment.ts";
export type * from "./finder/visit.ts";
export type * from "./finder/finding.ts";
export type * from "./rules/pack.ts";
export * from "./safety/index.ts";
export * from "./path/index.ts";
