import type { RulesUsed } from "@earthbell/engine";
import { type Json, jsonOf } from "../identity/canonical.ts";

/**
 * What a paper was made from, with the rule values that it rests on, as they were in force: published, or overridden by whom
 * and why. Another value makes another revision; a value that is not used here makes none.
 */
export function withRules(input: Json, used: readonly RulesUsed[]): Json {
  const rules = Object.fromEntries(used.map((one) => [one.pack.id, rulesOf(one)]));
  return Array.isArray(input)
    ? { sites: input, rules }
    : { ...(input as Readonly<Record<string, Json>>), rules };
}

function rulesOf({ pack, duty, values }: RulesUsed): Json {
  const { edition, override } = pack;
  const limits = values
    .filter(({ field }) => !field.startsWith("duty["))
    .map(({ field, value, source, tag }) => [field, { value, source, tag }] as const);
  return jsonOf({
    edition,
    override,
    duty: duty.map(({ id, when, alarm, source, tag }) => ({ id, when, alarm, source, tag })),
    values: Object.fromEntries(limits),
  });
}
