import type { FaultCode } from "../faults/catalogue.ts";
import type { Path } from "../yaml/reading.ts";
import type { FieldFault } from "./field-fault.ts";
import { nearestName } from "./nearest-name.ts";

/**
 * Checks between fields run on the data as written, beside the schema, so that a misspelt unit in one place does not hide
 * an unknown reference in another. They look only at what has the right type; the rest is the schema's to report.
 */
export interface Entry {
  readonly path: Path;
  readonly fields: Readonly<Record<string, unknown>>;
}

/** The schema refuses longer lists without looking into them. */
export const LONGEST_LIST = 50_000;

function isMap(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** The maps in a list field. */
export function entriesOf(parent: Entry, field: string): Entry[] {
  const value = parent.fields[field];
  if (!Array.isArray(value) || value.length > LONGEST_LIST) return [];
  return value.flatMap((fields, at) =>
    isMap(fields) ? [{ path: [...parent.path, field, at], fields }] : [],
  );
}

/** The map in a field. */
export function entryOf(parent: Entry, field: string): Entry | undefined {
  const fields = parent.fields[field];
  return isMap(fields) ? { path: [...parent.path, field], fields } : undefined;
}

export interface Written {
  readonly path: Path;
  readonly text: string;
}

/** The text in a field, or the texts in a list field. */
export function textsOf(parent: Entry, field: string): Written[] {
  const value = parent.fields[field];
  const path = [...parent.path, field];
  if (typeof value === "string") return [{ path, text: value }];
  if (!Array.isArray(value)) return [];
  return value.flatMap((text, at) => (typeof text === "string" ? [{ path: [...path, at], text }] : []));
}

/** Ids that are written more than once; the later one is at fault. */
export function* duplicateIds(entries: readonly Entry[], what: string): Generator<FieldFault> {
  const seen = new Set<string>();
  for (const entry of entries) {
    for (const { path, text } of textsOf(entry, "id")) {
      const message = `${what} ${text} is already defined above.`;
      if (seen.has(text))
        yield { ...fault("INPUT_ID_DUPLICATE", path, text), allowed: "an id of its own", message };
      seen.add(text);
    }
  }
}

export function idsOf(entries: readonly Entry[]): ReadonlySet<string> {
  return new Set(entries.flatMap((entry) => textsOf(entry, "id").map(({ text }) => text)));
}

/** The ids of a section that a file must have: undefined when it is missing, which is the one fault to report. */
export function idsOfRequired(entries: readonly Entry[]): ReadonlySet<string> | undefined {
  return entries.length === 0 ? undefined : idsOf(entries);
}

/** References that name nothing; none while the section they point into is missing. */
export function* unknownReferences(
  references: readonly Written[],
  known: ReadonlySet<string> | undefined,
  what: string,
): Generator<FieldFault> {
  if (!known) return;
  for (const { path, text } of references) {
    if (known.has(text)) continue;
    const nearest = nearestName(text, firstOf(known, MOST_COMPARED));
    const message = `No ${what} is called ${text}.${nearest === undefined ? "" : ` Is ${nearest} meant?`}`;
    const allowed = known.size === 0 ? "an id that is defined; none is" : `one of ${someOf(known)}`;
    yield { ...fault("INPUT_REFERENCE_UNKNOWN", path, text), allowed, message };
  }
}

/** Ids looked through for a likely misspelling. */
const MOST_COMPARED = 200;

function firstOf(known: ReadonlySet<string>, most: number): string[] {
  const first: string[] = [];
  for (const id of known) if (first.push(id) >= most) break;
  return first;
}

function someOf(known: ReadonlySet<string>): string {
  const few = firstOf(known, 8);
  return known.size > few.length ? `${few.join(", ")} and ${known.size - few.length} more` : few.join(", ");
}

/** References that a list repeats. */
export function* repeatedReferences(references: readonly Written[]): Generator<FieldFault> {
  const seen = new Set<string>();
  for (const { path, text } of references) {
    const message = `${text} is already in this list.`;
    if (seen.has(text))
      yield { ...fault("INPUT_REFERENCE_REPEATED", path, text), allowed: "each id once", message };
    seen.add(text);
  }
}

function fault(code: FaultCode, path: Path, value: string) {
  return { code, path, part: "value" as const, value };
}
