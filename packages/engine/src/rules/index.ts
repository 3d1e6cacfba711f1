export { BUILT_IN_PACKS, packsWith } from "./built-in-packs.ts";
export { type Candidate, candidatesAt, choiceOfPacks, type Occasion } from "./candidates.ts";
export { decideDuty } from "./decide.ts";
export type { DutyWithPacks } from "./decide-work.ts";
export { type OverridableValue, overridableValues } from "./overridable-values.ts";
export {
  directionOf,
  isAside,
  isOverridden,
  overridesSetAside,
  packsInForce,
  type SetAside,
  setAsideWords,
  type ValueOverride,
  withOverrides,
} from "./override-values.ts";
export type * from "./pack.ts";
