import { canonicalJson, type Json } from "./canonical.ts";

/** One thing that differs between two inputs; `before` or `now` is null where the other side alone has it. */
export interface InputChange {
  /** Names from the outside in: `people weekend reads`. */
  readonly what: string;
  readonly before: string | null;
  readonly now: string | null;
}

const LONGEST_VALUE = 60;

/**
 * What differs between two inputs, in the order of the newer one. Entries of a list are matched by their id or name
 * where they have one, else by their place.
 */
export function compareInputs(before: Json | undefined, now: Json | undefined): readonly InputChange[] {
  return differences([], before, now);
}

function differences(
  names: readonly string[],
  before: Json | undefined,
  now: Json | undefined,
): readonly InputChange[] {
  const what = names.join(" ");
  if (before === undefined && now === undefined) return [];
  if (before === undefined) return [{ what, before: null, now: shown(now!) }];
  if (now === undefined) return [{ what, before: shown(before), now: null }];
  if (canonicalJson(before) === canonicalJson(now)) return [];
  const [old, fresh] = [partsOf(before), partsOf(now)];
  if (old === null || fresh === null) return [{ what, before: shown(before), now: shown(now) }];
  const keys = [...fresh.keys(), ...[...old.keys()].filter((key) => !fresh.has(key))];
  return keys.flatMap((key) => differences([...names, key], old.get(key), fresh.get(key)));
}

/** Fields of a map, or entries of a list by their id; null where the value has no parts worth telling apart. */
function partsOf(value: Json): ReadonlyMap<string, Json> | null {
  if (Array.isArray(value)) {
    const entries = value as readonly Json[];
    const keys = entries.map((entry, index) => keyOf(entry) ?? String(index + 1));
    const plain = entries.every((entry) => typeof entry !== "object" || entry === null);
    if (plain || new Set(keys).size < keys.length) return null;
    return new Map(entries.map((entry, index) => [keys[index]!, entry]));
  }
  if (typeof value !== "object" || value === null) return null;
  const fields = Object.entries(value as Readonly<Record<string, Json | undefined>>);
  return new Map(fields.filter((field): field is [string, Json] => field[1] !== undefined));
}

/** A text, or the text of an entry that has one, such as a line of a history: for people, what was written counts. */
function wordsOf(value: Json): string | null {
  if (typeof value === "string") return value;
  if (typeof value !== "object" || value === null || Array.isArray(value)) return null;
  const { text } = value as { readonly text?: Json };
  return typeof text === "string" ? text : null;
}

function keyOf(entry: Json): string | undefined {
  if (typeof entry !== "object" || entry === null || Array.isArray(entry)) return undefined;
  const { id, name } = entry as { readonly id?: Json; readonly name?: Json };
  if (typeof id === "string") return id;
  return typeof name === "string" ? name : undefined;
}

function shown(value: Json): string {
  const written = wordsOf(value) ?? canonicalJson(value);
  return written.length > LONGEST_VALUE ? `${written.slice(0, LONGEST_VALUE - 1)}…` : written;
}
