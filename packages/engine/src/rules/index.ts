export { BUILT_IN_PACKS, packsWith } from "./built-in-packs.ts";
export { type Candidate, candidatesAt, choiceOfPacks, type Occasion } from "./candidates.ts";
export { decideDuty } from "./decide.ts";
export type { DutyWithPacks } from "./decide-work.ts";
export {
  directionOf,
  isOverridden,
  type OverridableValue,
  overridableValues,
  packsInForce,
  type ValueOverride,
  withOverrides,
} from "./override-values.ts";
export type * from "./pack.ts";
