import type { AssessmentFinding, PathAssessment } from "../assess/assessment.ts";
import { pathCode, type PathCode } from "./codes.ts";

/** A finding before it is bound to its catalogue entry: only what differs from case to case. */
export interface Remark {
  readonly code: PathCode;
  readonly text: string;
  readonly figures?: Readonly<Record<string, number>>;
}

/** A finding with the severity, source and tag its catalogue entry gives it. */
export function findingOf(remark: Remark): AssessmentFinding {
  const { severity, source, tag } = pathCode(remark.code);
  return {
    code: remark.code,
    severity,
    text: remark.text,
    ...(remark.figures === undefined ? {} : { figures: remark.figures }),
    source,
    tag,
  };
}

/**
 * The verdict that a set of remarks comes to.
 *
 * The worst wins, in this order: a fault makes the path fall short; then a fact that is missing and could hide a fault
 * leaves it cannot-tell; then a missing or old proof leaves it unproven; else it meets what is asked.
 */
export function verdictOf(remarks: readonly Remark[]): PathAssessment["verdict"] {
  const effects = new Set(remarks.map((remark) => pathCode(remark.code).effect));
  if (effects.has("falls-short")) return "falls-short";
  if (effects.has("cannot-tell")) return "cannot-tell";
  return effects.has("unproven") ? "unproven" : "meets";
}

/** `12.5` with at most `digits` decimals and no trailing zeros; figures in texts only, never for further arithmetic. */
export function figure(value: number, digits = 1): string {
  return String(Number(value.toFixed(digits)));
}

/** `a, b and c`. */
export function listed(items: readonly string[]): string {
  if (items.length < 2) return items.join("");
  return `${items.slice(0, -1).join(", ")} and ${items[items.length - 1]!}`;
}
