import { scalarText } from "./scalar-text.ts";

/** Plain data as one line in YAML's flow style; fields that are undefined are left out. */
export function flowText(value: unknown): string {
  if (typeof value === "string") return scalarText(value);
  if (Array.isArray(value)) return `[${value.map(flowText).join(", ")}]`;
  if (typeof value !== "object" || value === null) return String(value);
  const fields = Object.entries(value).filter(([, inner]) => inner !== undefined);
  return `{${fields.map(([field, inner]) => `${field}: ${flowText(inner)}`).join(", ")}}`;
}

/** A list as a block of lines, one entry a line; nothing where it is empty or missing. */
export function listText(section: string, entries: readonly unknown[] = []): readonly string[] {
  return entries.length === 0 ? [] : [`${section}:`, ...entries.map((entry) => `  - ${flowText(entry)}`)];
}
