import type { Condition, DutyRow, RulePack } from "./pack.ts";

/** One way the facts may be: every fact that the rules look at has a value. */
export interface Case {
  readonly maxVoltageV: number;
  readonly powerKilowatts: number;
  readonly parallelStrings: number;
  readonly earthing: "floating" | "functional" | "solid";
  readonly mounting: "building" | "field";
  readonly separation: "none" | "simple";
  /** Day on which the work was done, YYYY-MM-DD. */
  readonly done: string;
  /** Day on which the work began. */
  readonly begun: string;
}

/** The first row whose conditions all hold; null when no row does. */
export function rowFor(pack: RulePack, given: Case): DutyRow | null {
  return pack.duty.find((row) => row.when.every((condition) => holds(condition, given, pack))) ?? null;
}

/** Whether a condition holds in a case. A date is that of the pack's own basis. */
export function holds(condition: Condition, given: Case, pack: RulePack): boolean {
  switch (condition.fact) {
    case "max-voltage":
      return within(condition, given.maxVoltageV);
    case "power-kilowatts":
      return within(condition, given.powerKilowatts);
    case "parallel-strings":
      return within(condition, given.parallelStrings);
    case "earthing":
      return condition.is.includes(given.earthing);
    case "mounting":
      return condition.is.includes(given.mounting);
    case "separation":
      return condition.is.includes(given.separation);
    case "date": {
      const basis = pack.inForce[0]?.basis ?? "work-done";
      return inSpan(condition, basis === "work-begun" ? given.begun : given.done);
    }
  }
}

function within(bounds: { readonly above?: number; readonly atMost?: number }, value: number): boolean {
  return value > (bounds.above ?? -Infinity) && value <= (bounds.atMost ?? Infinity);
}

/** Calendar dates in ISO form sort as text. */
export function inSpan(span: { readonly from?: string; readonly until?: string }, day: string): boolean {
  return (span.from === undefined || day >= span.from) && (span.until === undefined || day <= span.until);
}
