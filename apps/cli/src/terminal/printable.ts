/**
 * Text from a file, made safe to print: control characters and marks that turn the direction of writing are replaced by
 * `�`, so that no file can move the cursor, change colours or disguise what it says. Line breaks and tabs become spaces.
 */
export function withoutControls(text: string): string {
  return text.replace(/[\t\n\r]+/gu, " ").replace(/[\p{Control}\u202a-\u202e\u2066-\u2069]/gu, "\ufffd");
}

/** The same for every text inside a record. */
export function printable<Value>(value: Value): Value {
  if (typeof value === "string") return withoutControls(value) as Value;
  if (Array.isArray(value)) return value.map((item: unknown) => printable(item)) as Value;
  if (value !== null && typeof value === "object")
    return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, printable(item)])) as Value;
  return value;
}
