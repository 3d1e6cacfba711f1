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

function isMap(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** The maps in a list field. */
export function entriesOf(parent: Entry, field: string): Entry[] {
  const value = parent.fields[field];
  if (!Array.isArray(value)) return [];
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
export function duplicateIds(entries: readonly Entry[], what: string): FieldFault[] {
  const seen = new Map<string, Path>();
  return entries.flatMap((entry) =>
    textsOf(entry, "id").flatMap(({ path, text }) => {
      if (!seen.has(text)) {
        seen.set(text, path);
        return [];
      }
      const message = `${what} ${text} is already defined above.`;
      return [
        {
          code: "INPUT_ID_DUPLICATE",
          path,
          part: "value",
          value: text,
          allowed: "an id of its own",
          message,
        },
      ];
    }),
  );
}

export function idsOf(entries: readonly Entry[]): ReadonlySet<string> {
  return new Set(entries.flatMap((entry) => textsOf(entry, "id").map(({ text }) => text)));
}

/** References that name nothing. */
export function unknownReferences(
  references: readonly Written[],
  known: ReadonlySet<string>,
  what: string,
): FieldFault[] {
  return references.flatMap(({ path, text }) => {
    if (known.has(text)) return [];
    const nearest = nearestName(text, [...known].slice(0, 2000));
    const message = `No ${what} is called ${text}.${nearest === undefined ? "" : ` Is ${nearest} meant?`}`;
    const allowed = known.size === 0 ? `${what} ids; none is defined` : `one of ${someOf(known)}`;
    return [{ code: "INPUT_REFERENCE_UNKNOWN", path, part: "value", value: text, allowed, message }];
  });
}

function someOf(known: ReadonlySet<string>): string {
  const few = [...known].slice(0, 8);
  return known.size > few.length ? `${few.join(", ")} and ${known.size - few.length} more` : few.join(", ");
}

/** References that a list repeats. */
export function repeatedReferences(references: readonly Written[]): FieldFault[] {
  const seen = new Set<string>();
  return references.flatMap(({ path, text }) => {
    if (!seen.has(text)) {
      seen.add(text);
      return [];
    }
    const message = `${text} is already in this list.`;
    return [
      {
        code: "INPUT_REFERENCE_REPEATED",
        path,
        part: "value",
        value: text,
        allowed: "each id once",
        message,
      },
    ];
  });
}
