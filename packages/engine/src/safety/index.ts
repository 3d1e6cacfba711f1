export type { SafetyAction } from "./actions.ts";
export { type Caution, CAUTIONS, cautionsFor } from "./cautions.ts";
export { OWNER_MUST_BE_TOLD } from "./owner-message.ts";
export { type PreconditionId, PRECONDITIONS, preconditionsFor } from "./preconditions.ts";
