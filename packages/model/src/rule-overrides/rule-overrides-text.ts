import { directionOf, overridableValues, type RulePack, type ValueOverride } from "@earthbell/engine";
import { flowText, listText } from "../yaml/flow-text.ts";
import { RULE_OVERRIDES_FORMAT } from "./rule-overrides-file.ts";

/** An override with what its pack said when it was put. */
export interface OverrideOnRecord extends ValueOverride {
  readonly replaces: number;
}

/**
 * Overrides as the file (`earthbell.rule-overrides/1`) that a person would write, one a line. What asks for less of the alarm
 * was confirmed when it was put, and says so.
 *
 * @param held  the packs that they replace values of
 */
export function ruleOverridesText(
  desk: string,
  overrides: readonly OverrideOnRecord[],
  held: readonly RulePack[],
): string {
  const entries = overrides.map(({ pack, field, value, replaces, because, source, by, on }) => {
    const entry = { pack, field, value, replaces, because, source, by, on };
    return isDoubtful(pack, field, value, held) ? { ...entry, confirmed: true } : entry;
  });
  const lines = [
    `format: ${RULE_OVERRIDES_FORMAT}`,
    `desk: ${flowText(desk)}`,
    ...(entries.length === 0 ? ["overrides: []"] : listText("overrides", entries)),
  ];
  return `${lines.join("\n")}\n`;
}

function isDoubtful(pack: string, field: string, value: number, held: readonly RulePack[]): boolean {
  const base = held.find(({ id }) => id === pack);
  const known = base && overridableValues(base).find((one) => one.field === field);
  if (known === undefined) return false;
  const direction = directionOf(known, value);
  return direction === "weaker" || direction === "unknown";
}
