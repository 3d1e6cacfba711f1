import type { Expected, ProofPlan } from "@earthbell/engine";
import { type Judgement, judgeReading } from "./judge-reading.ts";

/** One result as somebody has typed it so far. */
export interface TypedResult {
  readonly array: string;
  readonly path?: string;
  readonly step: string;
  readonly line?: number;
  readonly at?: string;
  readonly reading?: string;
  readonly with?: string;
  readonly limit?: string;
  readonly limitFrom?: string;
  /** Left out: by its limit, or not decided yet. */
  readonly passed?: boolean;
  readonly note?: string;
}

/** A result with what its reading says; null where nothing was read, or the plan has no such line. */
interface JudgedResult<Result extends TypedResult = TypedResult> {
  readonly result: Result;
  readonly judgement: Judgement | null;
}

/**
 * Judges results as they are typed. A reading on the wrong side of its limit has not passed, whatever else was said; one on the right
 * side has passed unless somebody says that it did not; everything else is left to a person.
 */
export function judgeResults<Result extends TypedResult>(
  plan: ProofPlan,
  results: readonly Result[],
): readonly JudgedResult<Result>[] {
  return results.map((result) => {
    const line = lineOf(plan, result);
    const judgement =
      line === undefined || result.reading === undefined
        ? null
        : judgeReading(result.reading, line, result.limit ?? null);
    switch (judgement?.verdict) {
      case "fails":
        return { result: { ...result, passed: false }, judgement };
      case "passes":
        return { result: { ...result, passed: result.passed ?? true }, judgement };
      default:
        return { result, judgement };
    }
  });
}

function lineOf({ proofs }: ProofPlan, { array, path, step, line = 1 }: TypedResult): Expected | undefined {
  const proof = proofs.find((one) => one.array === array && (path === undefined || one.path === path));
  return proof?.steps.find(({ id }) => id === step)?.expected[line - 1];
}
