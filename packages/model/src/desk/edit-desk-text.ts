import { readYaml } from "../yaml/read-yaml.ts";
import { scalarText } from "../yaml/scalar-text.ts";

/** Sections of a desk's settings that may be changed while it runs from them. */
export const EDITABLE_SECTIONS = [
  "email",
  "webhook",
  "sms",
  "brokers",
  "beacons",
  "ladders",
  "limits",
  "drills",
  "keepers",
] as const;
export type EditableSection = (typeof EDITABLE_SECTIONS)[number];

/** What a section is to be: its fields as the file writes them, or its text, or nothing. */
export type SectionWanted =
  | { readonly kind: "fields"; readonly fields: Readonly<Record<string, unknown>> }
  /** Its value in YAML, without the name of the section. */
  | { readonly kind: "text"; readonly text: string }
  | { readonly kind: "absent" };

/** Every section as the file writes it; nothing where the text cannot be read. */
export function deskSections(text: string): Readonly<Partial<Record<EditableSection, unknown>>> {
  const data = dataOf(text) ?? {};
  return Object.fromEntries(EDITABLE_SECTIONS.flatMap((name) => (name in data ? [[name, data[name]]] : [])));
}

/**
 * The text of a desk's settings with one section changed. Every other byte stays as it is, with its remarks; in the section
 * itself lines whose value stays are kept too, as long as it is written one field a line. The result is read back, and is given
 * out only if nothing else has changed its meaning.
 *
 * @param text  settings that can be read
 * @returns null where the section cannot be changed without touching others; the file is then to be changed by hand
 */
export function editDeskText(text: string, section: EditableSection, wanted: SectionWanted): string | null {
  const before = dataOf(text);
  if (before === null) return null;
  const value = valueOf(wanted);
  if (value === null) return null;
  const { [section]: _, ...others } = before;
  const after = value.present ? { ...others, [section]: value.value } : others;
  const ways = [
    ...(wanted.kind === "fields" ? [inPlace(text, section, wanted.fields)] : []),
    replaced(text, section, blockOf(section, wanted)),
  ];
  return ways.find((way) => way !== null && same(dataOf(way), after)) ?? null;
}

type Data = Readonly<Record<string, unknown>>;

function dataOf(text: string): Data | null {
  const read = readYaml(text);
  const map = read.ok && read.duplicates.length === 0 && typeof read.data === "object" && read.data !== null;
  return map ? (read.data as Data) : null;
}

/** null: the text of the section cannot be read. */
function valueOf(wanted: SectionWanted): { readonly present: boolean; readonly value?: unknown } | null {
  switch (wanted.kind) {
    case "absent":
      return { present: false };
    case "fields":
      return { present: true, value: wanted.fields };
    case "text": {
      const data = dataOf(`section:\n${indented(wanted.text)}`);
      return data === null ? null : { present: true, value: data["section"] };
    }
  }
}

function blockOf(section: string, wanted: SectionWanted): string {
  switch (wanted.kind) {
    case "absent":
      return "";
    case "text":
      return `${section}:\n${indented(wanted.text)}`;
    case "fields": {
      const lines = Object.entries(wanted.fields).map(([name, value]) => `  ${name}: ${flow(value)}\n`);
      return lines.length === 0 ? `${section}: {}\n` : `${section}:\n${lines.join("")}`;
    }
  }
}

function indented(text: string): string {
  return text
    .trimEnd()
    .split("\n")
    .map((line) => (line.trim() === "" ? "\n" : `  ${line}\n`))
    .join("");
}

interface Span {
  readonly from: number;
  readonly to: number;
}

/** From the line of a section's name to the last line that belongs to it; remarks that follow belong to what comes next. */
function spanOf(text: string, section: string): Span | null {
  const begins = new RegExp(`^${section}[ ]*:`, "mu").exec(text);
  if (begins === null) return null;
  let to = endOfLine(text, begins.index);
  for (let at = to; at < text.length; ) {
    const next = endOfLine(text, at);
    const line = text.slice(at, next);
    // A list may stand at the same depth as its name.
    if (/^(?:[ ]+[^ #\n]|-)/u.test(line)) to = next;
    else if (!/^[ ]*(?:#|\r?\n?$)/u.test(line)) break;
    at = next;
  }
  return { from: begins.index, to };
}

function endOfLine(text: string, from: number): number {
  const end = text.indexOf("\n", from);
  return end === -1 ? text.length : end + 1;
}

function replaced(text: string, section: string, block: string): string {
  const span = spanOf(text, section);
  const whole = text === "" || text.endsWith("\n") ? text : `${text}\n`;
  return span === null ? `${whole}${block}` : `${text.slice(0, span.from)}${block}${text.slice(span.to)}`;
}

/** Changes only the lines of fields that change; null where the section is not written one field a line. */
function inPlace(text: string, section: string, fields: Data): string | null {
  const span = spanOf(text, section);
  if (span === null) return null;
  const [head = "", ...lines] = text.slice(span.from, span.to).split(/(?<=\n)/u);
  if (!new RegExp(`^${section}[ ]*:[ ]*(?:#.*)?\\r?\\n$`, "u").test(head)) return null;
  const before = dataOf(text)?.[section] as Data | undefined;
  const kept: string[] = [];
  const seen = new Set<string>();
  for (const line of lines) {
    const [, indent = "  ", name, remark = ""] =
      /^([ ]+)(\w+)[ ]*:[ ]*[^#\n]*?([ ]+#[^\n]*)?\r?\n?$/u.exec(line) ?? [];
    if (name === undefined || !(name in (before ?? {}))) {
      kept.push(line);
      continue;
    }
    seen.add(name);
    const value = fields[name];
    if (value === undefined) continue;
    kept.push(same(value, before?.[name]) ? line : `${indent}${name}: ${flow(value)}${remark}\n`);
  }
  const indent = /^[ ]+/u.exec(lines.find((line) => /^[ ]+\w/u.test(line)) ?? "")?.[0] ?? "  ";
  const added = Object.entries(fields).filter(([name]) => !seen.has(name));
  const more = added.map(([name, value]) => `${indent}${name}: ${flow(value)}\n`);
  return `${text.slice(0, span.from)}${head}${kept.join("")}${more.join("")}${text.slice(span.to)}`;
}

const QUANTITY = /^\d+(?:\.\d+)? [A-Za-z]+$/u;

/** A value in YAML's flow style. */
function flow(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(flow).join(", ")}]`;
  if (typeof value === "string") return QUANTITY.test(value) ? value : scalarText(value);
  if (typeof value !== "object" || value === null) return String(value);
  const fields = Object.entries(value).map(([name, inner]) => `${JSON.stringify(name)}: ${flow(inner)}`);
  return `{${fields.join(", ")}}`;
}

function same(one: unknown, other: unknown): boolean {
  return canonical(one) === canonical(other);
}

/** As text with the fields of each map in one order. */
function canonical(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) =>
    typeof inner === "object" && inner !== null && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner,
  );
}
