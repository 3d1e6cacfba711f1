import { type Candidate, candidatesAt, type Choice } from "./candidates.ts";
import { type Case, rowFor } from "./case.ts";
import type { Fact } from "./known-facts.ts";
import type { Alarm, DutyRow } from "./pack.ts";

/** What one pack says in one case. */
export interface Outcome extends Candidate {
  readonly given: Case;
  readonly row: DutyRow | null;
  readonly alarm: Alarm;
}

/**
 * What every pack that may bind says in every way the unknown facts may fall.
 *
 * Trying all cases is what lets an answer be given while a fact is missing: it is given only when no case contradicts it.
 */
export function outcomesOf(
  country: string,
  choice: Choice,
  facts: readonly Fact[],
): readonly (Outcome & { readonly region: string })[] {
  return combinations(facts).flatMap(({ region, ...given }) =>
    candidatesAt(choice, { country, region, done: given.done, begun: given.begun }).map((candidate) => {
      const row = candidate.pack === null ? null : rowFor(candidate.pack, given);
      return { ...candidate, given, region, row, alarm: row?.alarm ?? "undecided" };
    }),
  );
}

function combinations(facts: readonly Fact[]): readonly (Case & { readonly region: string })[] {
  let made: readonly Readonly<Record<string, string | number>>[] = [{}];
  for (const { name, values } of facts)
    made = made.flatMap((part) => values.map((value) => ({ ...part, [name]: value })));
  return made as unknown as readonly (Case & { readonly region: string })[];
}

/** The unknown facts on which the answer turns: two cases that differ in nothing else have different answers. */
export function decisiveFacts(
  outcomes: readonly (Outcome & { readonly region: string })[],
  facts: readonly Fact[],
): readonly Fact[] {
  return facts.filter(({ name, values }) => {
    if (values.length < 2) return false;
    const choosesPack = name === "done" || name === "begun" || name === "region";
    return answersDiffer(outcomes, (outcome) => [
      choosesPack ? null : outcome.pack?.id,
      ...facts.filter((other) => other.name !== name).map((other) => valueOf(outcome, other.name)),
    ]);
  });
}

/** Whether packs that may bind in one and the same case answer differently. */
export function packIsDecisive(outcomes: readonly (Outcome & { readonly region: string })[]): boolean {
  return answersDiffer(outcomes, (outcome) => [outcome.region, outcome.given]);
}

function valueOf(outcome: Outcome & { readonly region: string }, name: Fact["name"]): string | number {
  return name === "region" ? outcome.region : outcome.given[name];
}

function answersDiffer(
  outcomes: readonly (Outcome & { readonly region: string })[],
  sameIn: (outcome: Outcome & { readonly region: string }) => readonly unknown[],
): boolean {
  const answers = new Map<string, Alarm>();
  return outcomes.some((outcome) => {
    const key = JSON.stringify(sameIn(outcome));
    const before = answers.get(key);
    answers.set(key, outcome.alarm);
    return before !== undefined && before !== outcome.alarm;
  });
}
