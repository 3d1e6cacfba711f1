import type * as z from "zod";
import type { FaultCode } from "../faults/catalogue.ts";

/** What a field's own check found wrong; carried through the schema library to `field-faults-of.ts`. */
export interface Refusal {
  readonly code: FaultCode;
  readonly allowed: string;
  readonly message: string;
}

/** The part of the schema library's context that a field's check needs. */
type Context = Pick<z.RefinementCtx, "issues">;

/** Records a refusal inside a transform or check. */
export function refuse(context: Context, input: unknown, refusal: Refusal): void {
  context.issues.push({ code: "custom", input, params: { refusal }, message: refusal.allowed });
}
