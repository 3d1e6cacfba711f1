import { isAside, isOverridden, type OverridableValue, type RulesUsed } from "@earthbell/engine";
import type { Block } from "./paper.ts";

/**
 * Rule values that somebody put in the place of published ones and that the paper rests on, each with its reason and source; and
 * those of which an override was set aside, so that the published one holds.
 */
export function overriddenValues(used: readonly RulesUsed[]): readonly Block[] {
  return [
    ...valuesThat(used, "◆ Overridden rule values that this rests on", isOverridden),
    ...valuesThat(
      used,
      "◇ Rule values of which an override was set aside: the pack’s own holds",
      (one) => isAside(one) && !isOverridden(one),
    ),
  ];
}

function valuesThat(
  used: readonly RulesUsed[],
  caption: string,
  are: (value: OverridableValue) => boolean,
): readonly Block[] {
  const rows = used.flatMap(({ pack, values }) =>
    values.filter(are).map(({ says, value, unit, source, tag }) => ({
      label: `${pack.id}: ${says}`,
      value: unit === "" ? String(value) : `${value} ${unit}`,
      source,
      tag,
    })),
  );
  return rows.length === 0 ? [] : [{ kind: "figures", caption, rows }];
}
