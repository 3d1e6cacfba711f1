export { BUILT_IN_PACKS, packsWith } from "./built-in-packs.ts";
export { decideDuty } from "./decide.ts";
export type { DutyWithPacks } from "./decide-work.ts";
export type * from "./pack.ts";
