import type { Provenance } from "../provenance.ts";
import { packsWith } from "./built-in-packs.ts";
import { type OverridableValue, overridableValues } from "./overridable-values.ts";
import type { DutyRow, RulePack } from "./pack.ts";

/** A value of a rule pack that somebody answerable replaced for their team. */
export interface ValueOverride {
  /** Id of the pack. */
  readonly pack: string;
  /** Place of the value in the pack, as `overridableValues` names it. */
  readonly field: string;
  /** In the unit of the field. */
  readonly value: number;
  /** What the pack itself said when somebody decided on it; left out: not known, and it is not held against the pack. */
  readonly replaces?: number;
  readonly because: string;
  /** What the value is taken from: an own copy of the standard, a letter of the authority. */
  readonly source: string;
  readonly by: string;
  /** YYYY-MM-DD. */
  readonly on: string;
}

/**
 * The packs to go by: the user's own, and every pack of which values were replaced, with those values in their place. Each
 * replaced value says in its source by whom, when, why, and what it stands for; its tag is `user`.
 *
 * An override of which the pack says another value by now than when it was decided on is set aside: the pack's own value holds,
 * and says so in its source. One of a pack or field that is not there any more changes nothing.
 *
 * @returns packs to give to `assessSite` as `packs`
 */
export function packsInForce(
  own: readonly RulePack[],
  overrides: readonly ValueOverride[],
): readonly RulePack[] {
  if (overrides.length === 0) return own;
  const named = new Set([...own.map(({ id }) => id), ...overrides.map(({ pack }) => pack)]);
  return packsWith(own)
    .filter(({ id }) => named.has(id))
    .map((pack) =>
      withOverrides(
        pack,
        overrides.filter((one) => one.pack === pack.id),
      ),
    );
}

/** A pack with values replaced. */
export function withOverrides(pack: RulePack, overrides: readonly ValueOverride[]): RulePack {
  if (overrides.length === 0) return pack;
  const amended = structuredClone(pack);
  const values = new Map(overridableValues(pack).map((one) => [one.field, one]));
  const placed = overrides.flatMap((override) => {
    const known = values.get(override.field);
    return known === undefined ? [] : [{ override, known, aside: isStale(override, known) }];
  });
  for (const { override, known } of placed.filter(({ aside }) => !aside)) put(amended, known, override);
  // Of a row with bounds of both kinds the one set aside is told behind the one in force.
  for (const { override, known } of placed.filter(({ aside }) => aside)) tellAside(amended, known, override);
  return amended;
}

/** Whether the pack itself says another value by now than when somebody decided to override it. */
function isStale({ replaces }: ValueOverride, { value }: OverridableValue): boolean {
  return replaces !== undefined && replaces !== value;
}

/** An override that is not in force, since what it stood for is not what the pack says any more. */
export interface SetAside {
  readonly override: ValueOverride;
  /** The value of the pack that holds; null where the pack, or the place in it, is not there any more. */
  readonly holds: OverridableValue | null;
}

/**
 * Overrides that are set aside until somebody looks at them again: `packsInForce` goes by the packs' own values there.
 *
 * @param held  the packs that are held, as their editions or files have them
 */
export function overridesSetAside(
  held: readonly RulePack[],
  overrides: readonly ValueOverride[],
): readonly SetAside[] {
  const values = new Map(held.map((pack) => [pack.id, overridableValues(pack)]));
  return overrides.flatMap((override): readonly SetAside[] => {
    const known = values.get(override.pack)?.find(({ field }) => field === override.field);
    if (known === undefined) return [{ override, holds: null }];
    return isStale(override, known) ? [{ override, holds: known }] : [];
  });
}

/** That an override is set aside, and what to do about it, for people. */
export function setAsideWords({ override, holds }: SetAside): string {
  const { by, on, value, replaces, because, source } = override;
  const unit = holds === null || holds.unit === "" ? "" : ` ${holds.unit}`;
  const decided = `the override of ${by} on ${on} (${value}${unit}${replaces === undefined ? "" : ` in place of ${replaces}${unit}`}: ${sentence(because)}, from ${source})`;
  return holds === null
    ? `Set aside: ${decided}, since the pack has no such value any more. Take it back, or override what took its place.`
    : `Set aside: ${decided}, since the pack itself says ${holds.value}${unit} by now, and that holds. Look at it again: override it anew, or take it back.`;
}

/** Whether a value asks for less of the alarm than the one it replaces, or might: null where it is the same. */
export function directionOf(
  { value, safer }: Pick<OverridableValue, "value" | "safer">,
  wanted: number,
): "stronger" | "weaker" | "unknown" | null {
  if (wanted === value) return null;
  if (safer === null) return "unknown";
  return wanted > value === (safer === "higher") ? "stronger" : "weaker";
}

const OVERRIDDEN = "overridden by";
const ASIDE = "◇ Set aside: ";
const sentence = (words: string): string => words.replace(/[.\s]+$/u, "");

/** Whether a value stands in the place of its pack's own. */
export function isOverridden({ source, tag }: Provenance): boolean {
  return tag === "user" && source.startsWith(OVERRIDDEN);
}

/** Whether the pack's own value stands where an override was set aside. */
export function isAside({ source }: Provenance): boolean {
  return source.includes(ASIDE);
}

/** The place of a value in its pack: names of fields and numbers of rows. */
function stepsOf(field: string): readonly (string | number)[] {
  return field
    .split(/[.[\]]+/u)
    .filter((step) => step !== "")
    .map((step) => (/^\d+$/u.test(step) ? Number(step) : step));
}

/** Of a value with its own source that is put in; of a bound of a row, whose source the row has, both. */
function put(pack: RulePack, known: OverridableValue, override: ValueOverride): void {
  const { source, tag } = overriddenSource(known, override);
  const { holder, last, row } = placeOf(pack, known);
  if (row !== null) {
    holder[last] = override.value;
    // Several bounds of one row may be replaced: the row tells of each.
    row.source = row.tag === "user" ? `${source} ${row.source}` : source;
    row.tag = tag;
  } else holder[last] = { value: override.value, source, tag };
}

/** The pack's own value stays; its source, or that of its row, tells of the override. */
function tellAside(pack: RulePack, known: OverridableValue, override: ValueOverride): void {
  const { holder, last, row } = placeOf(pack, known);
  const told = row ?? (holder[last] as Told);
  told.source = `${told.source}. ◇ ${setAsideWords({ override, holds: known })}`;
}

interface Told {
  source: string;
  tag: Provenance["tag"];
}

interface Place {
  readonly holder: Holder;
  readonly last: string | number;
  /** The row of the duty of which the value is a bound. */
  readonly row: Told | null;
}

function placeOf(pack: RulePack, { field }: OverridableValue): Place {
  const steps = stepsOf(field);
  const holder = steps.slice(0, -1).reduce<unknown>((at, step) => (at as Holder)[step], pack) as Holder;
  const row = steps[0] === "duty" ? (pack.duty[Number(steps[1])] as DutyRow & Told) : null;
  return { holder, last: steps.at(-1)!, row };
}

type Holder = Record<string | number, unknown>;

function overriddenSource(
  { value, unit, source, tag }: OverridableValue,
  { by, on, because, source: from }: ValueOverride,
): Provenance {
  const words = sentence(because);
  const unitWords = unit === "" ? "" : ` ${unit}`;
  return {
    source: `${OVERRIDDEN} ${by} on ${on}: ${words} (from ${from}); in place of ${String(value)}${unitWords}, ${source} [${tag}]`,
    tag: "user",
  };
}
