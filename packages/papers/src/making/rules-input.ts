import { overridableValues, type RulePack } from "@earthbell/engine";
import { type Json, jsonOf } from "../identity/canonical.ts";

/**
 * What a paper was made from, with the rules that were in force besides those of the program: which packs were a desk's own,
 * and which of their values were put there by its people. Another rule makes another revision.
 */
export function withRules(input: Json, packs: readonly RulePack[] = []): Json {
  if (packs.length === 0) return input;
  const rules = Object.fromEntries(packs.map((pack) => [pack.id, ownOf(pack)]));
  return Array.isArray(input)
    ? { sites: input, rules }
    : { ...(input as Readonly<Record<string, Json>>), rules };
}

function ownOf(pack: RulePack): Json {
  const values = overridableValues(pack)
    .filter(({ tag }) => tag === "user")
    .map(({ field, value, source }) => [field, `${value}, ${source}`] as const);
  const { title, edition, override = null } = pack;
  return jsonOf({ title, edition, override, values: Object.fromEntries(values) });
}
