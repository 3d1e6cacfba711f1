import { isOverridden, type RulesUsed } from "@earthbell/engine";
import type { Block } from "./paper.ts";

/** Rule values that somebody put in the place of published ones and that the paper rests on, each with its reason and source. */
export function overriddenValues(used: readonly RulesUsed[]): readonly Block[] {
  const rows = used.flatMap(({ pack, values }) =>
    values.filter(isOverridden).map(({ says, value, unit, source, tag }) => ({
      label: `${pack.id}: ${says}`,
      value: unit === "" ? String(value) : `${value} ${unit}`,
      source,
      tag,
    })),
  );
  if (rows.length === 0) return [];
  return [{ kind: "figures", caption: "◆ Overridden rule values that this rests on", rows }];
}
