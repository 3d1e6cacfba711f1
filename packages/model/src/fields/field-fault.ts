import type { FaultCode } from "../faults/catalogue.ts";
import type { Path } from "../yaml/reading.ts";

/** One thing wrong with one field, before it has a line. */
export interface FieldFault {
  readonly code: FaultCode;
  readonly path: Path;
  /** Whether the key or its value is the place to point at. */
  readonly part: "key" | "value";
  /** The offending value; undefined where nothing is written. */
  readonly value: unknown;
  readonly allowed: string;
  readonly message: string;
}

/** strings[0].modules */
export function fieldName(path: Path): string {
  return path.reduce<string>((name, step) => {
    if (typeof step === "number") return `${name}[${step}]`;
    const plain = /^[\w-]+$/u.test(step) ? step : JSON.stringify(step);
    return name === "" ? plain : `${name}.${plain}`;
  }, "");
}

const LONGEST_VALUE = 60;

/** A value as its writer would know it, shortened; null where nothing is written. */
export function shownValue(value: unknown): string | null {
  if (value === undefined || value === null) return null;
  const text = typeof value === "object" ? shownCollection(value) : shownEntry(value);
  return text.length > LONGEST_VALUE ? `${text.slice(0, LONGEST_VALUE - 1)}…` : text;
}

/** Only the start of a large collection, so that a fault on top of a big file stays cheap. */
function shownCollection(value: object): string {
  if (Array.isArray(value)) return `[${value.slice(0, 5).map(shownEntry).join(", ")}]`;
  const keys = Object.keys(value).slice(0, 5);
  return `{${keys.map((key) => `${key}: …`).join(", ")}}`;
}

function shownEntry(entry: unknown): string {
  if (typeof entry === "string") return entry;
  if (typeof entry === "number" || typeof entry === "boolean") return String(entry);
  if (typeof entry !== "object" || entry === null) return "null";
  return Array.isArray(entry) ? "[…]" : "{…}";
}
