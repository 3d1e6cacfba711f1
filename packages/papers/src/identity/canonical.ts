/** Anything that JSON can hold, as it is read back. */
export type Json =
  | string
  | number
  | boolean
  | null
  | readonly Json[]
  | { readonly [field: string]: Json | undefined };

/** The same data as the same text, whatever order its fields were written in. Fields that are undefined are left out. */
export function canonicalJson(value: Json): string {
  if (Array.isArray(value)) return `[${value.map((one: Json) => canonicalJson(one)).join(",")}]`;
  if (typeof value !== "object" || value === null) return JSON.stringify(value);
  const fields = Object.entries(value as Readonly<Record<string, Json | undefined>>)
    .filter((entry): entry is [string, Json] => entry[1] !== undefined)
    .sort(([one], [other]) => (one < other ? -1 : 1));
  return `{${fields.map(([field, inner]) => `${JSON.stringify(field)}:${canonicalJson(inner)}`).join(",")}}`;
}

/** A record as plain JSON data; what it leaves undefined is left out. */
export function jsonOf(record: object): Json {
  return JSON.parse(JSON.stringify(record)) as Json;
}
