import type { Site } from "@earthbell/engine";
import { readSite } from "../site/read-site.ts";
import { formatHours } from "../site/hours.ts";
import { siteText } from "../site/site-text.ts";
import { scalarText } from "../yaml/scalar-text.ts";
import { type EditedSite, sameSite } from "./edit-site-text.ts";
import { type PersonChange, withPerson } from "./person-change.ts";
import { endOfLine, type PlaceInText, textMap, type ValueSpan } from "./value-span.ts";

/**
 * Changes people in the text of a site file. What its writer wrote stays as it is, with its remarks; the result is read back,
 * and where that gives another site than was meant the whole file is written anew instead. The values are not checked:
 * reading the result names every fault.
 *
 * @param text  a sound site file, that of `site`
 */
export function editPeopleText(text: string, site: Site, changes: readonly PersonChange[]): EditedSite {
  const wanted = changes.reduce(withPerson, site);
  const edited = changes.reduce((so, change) => editPerson(so, site, change), text);
  const read = readSite(edited, "edited");
  if (read.ok && sameSite(read.record, wanted)) return { text: edited, rewritten: false };
  return { text: siteText(wanted), rewritten: true };
}

function editPerson(text: string, site: Site, change: PersonChange): string {
  const at = site.people.findIndex(({ id }) => id === change.person);
  const entry = ["people", at] as const;
  return at === -1
    ? text
    : fieldsOf(change).reduce((so, [field, value]) => withField(so, entry, field, value), text);
}

/** Fields with their values as the file has them; null where the field goes. */
function fieldsOf(change: PersonChange): readonly (readonly [PlaceInText, unknown])[] {
  const { reads, checksPerDay, away, until, address } = change;
  const fields: readonly (readonly [PlaceInText, unknown])[] = [
    [["address", address?.way ?? ""], address?.to],
    [["reads"], reads && formatHours(reads)],
    [["checksPerDay"], checksPerDay],
    [["away"], away?.length === 0 ? null : away],
    [["until"], until],
  ];
  return fields.filter(([, value]) => value !== undefined);
}

function withField(text: string, entry: PlaceInText, field: PlaceInText, value: unknown): string {
  const map = textMap(text);
  const whole = map?.spanOf(entry) ?? null;
  if (map === null || whole === null) return text;
  const written = /^\s*\{/u.test(text) ? JSON.stringify : flow;
  const inFlow = text[whole.from] === "{";
  const standing = map.spanOf([...entry, ...field]);
  if (standing !== null)
    return value === null ? without(text, standing, inFlow) : replaced(text, standing, written(value));
  return value === null
    ? text
    : withAdded(text, whole, `${written(field.at(-1))}: ${written(value)}`, inFlow);
}

/** A value in YAML's flow style. */
function flow(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(flow).join(", ")}]`;
  if (typeof value === "string") return scalarText(value);
  if (typeof value !== "object" || value === null) return String(value);
  return `{${Object.entries(value)
    .map(([name, inner]) => `${name}: ${flow(inner)}`)
    .join(", ")}}`;
}

/** A value over several lines moves up behind its key. */
function replaced(text: string, { keyFrom, from, to }: ValueSpan, value: string): string {
  const key = text.slice(keyFrom, from);
  const before = key.includes("\n") ? `${key.slice(0, key.indexOf(":"))}: ` : key;
  return `${text.slice(0, keyFrom)}${before}${value}${text.slice(to)}`;
}

/** Takes a field out: in a block its lines with their remarks, in braces with a comma beside it. */
function without(text: string, { keyFrom, to }: ValueSpan, inFlow: boolean): string {
  if (!inFlow) {
    const lineFrom = text.lastIndexOf("\n", keyFrom) + 1;
    return text.slice(0, lineFrom) + text.slice(endOfLine(text, to) + 1);
  }
  const before = text.slice(0, keyFrom);
  const after = text.slice(to);
  return /,\s*$/u.test(before)
    ? before.replace(/,\s*$/u, "") + after
    : before + after.replace(/^\s*,\s*/u, "");
}

function withAdded(text: string, { from, to }: ValueSpan, field: string, inFlow: boolean): string {
  if (inFlow) {
    const before = text.slice(0, to - 1).trimEnd();
    return `${before}${before.endsWith(",") ? " " : ", "}${field}${text.slice(to - 1)}`;
  }
  const indent = " ".repeat(from - (text.lastIndexOf("\n", from) + 1));
  const end = endOfLine(text, to);
  return `${text.slice(0, end)}\n${indent}${field}${text.slice(end)}`;
}
