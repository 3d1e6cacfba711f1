import type { RulesUsed } from "@earthbell/engine";

/** The values of several sites together, each pack once. */
export function joinedRules(used: readonly RulesUsed[]): readonly RulesUsed[] {
  const packs = new Map<string, RulesUsed>();
  for (const one of used) {
    const known = packs.get(one.pack.id);
    const fields = new Set(known?.values.map(({ field }) => field));
    const values = [...(known?.values ?? []), ...one.values.filter(({ field }) => !fields.has(field))];
    packs.set(one.pack.id, { ...one, values });
  }
  return [...packs.values()];
}
