import { isAside, isOverridden, type RulesUsed } from "@earthbell/engine";
import { type NotedLines, withMargin } from "../terminal/margin.ts";
import type { Page } from "../terminal/page.ts";
import { printable } from "../terminal/printable.ts";
import { heading } from "../terminal/section.ts";
import { row } from "./row.ts";

/** A rule value that a result rests on and that somebody overrode, or whose override was set aside. */
export interface OverriddenValue {
  readonly pack: string;
  readonly field: string;
  readonly says: string;
  readonly value: number;
  readonly unit: string;
  /** set-aside: the pack's own value, since it is another one than when it was overridden. */
  readonly state: "in-force" | "set-aside";
  /** By whom, when, why, from what, and in place of what. */
  readonly source: string;
}

/** Of the rule values that a result rests on, those that are not the packs' own, or were not to be. */
export function overriddenAmong(used: readonly RulesUsed[]): readonly OverriddenValue[] {
  return used.flatMap(({ pack, values }) =>
    values
      .filter((one) => isOverridden(one) || isAside(one))
      .map(({ field, says, value, unit, source, tag }) => ({
        ...{ pack: pack.id, field, says, value, unit, source },
        state: isOverridden({ source, tag }) ? ("in-force" as const) : ("set-aside" as const),
      })),
  );
}

/** The result as JSON says it, with the overridden values that it rests on, where there are any. */
export function withOverridden<Result extends object>(
  result: Result,
  overridden: readonly OverriddenValue[],
): Result & { readonly overridden?: readonly OverriddenValue[] } {
  return overridden.length === 0 ? result : { ...result, overridden };
}

/** The section that names every overridden value, its reason and its source; nothing where there are none. */
export function overriddenText(unsafe: readonly OverriddenValue[], page: Page): string[] {
  const values = printable(unsafe);
  if (values.length === 0) return [];
  const blocks: NotedLines[] = [
    { lines: ["", ...heading("Overridden rule values that this rests on", page)] },
    ...values.map(({ pack, field, says, value, unit, source, state }) =>
      row(
        state === "in-force" ? "overridden" : "set aside",
        `${pack}: ${says} ${value} ${unit}`.trim(),
        page,
        `${field}; ${source}`,
      ),
    ),
  ];
  return withMargin(blocks, page);
}
