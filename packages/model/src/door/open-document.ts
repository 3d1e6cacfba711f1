import type { InputFault } from "../faults/input-fault.ts";
import { shownValue, type FieldFault } from "../fields/field-fault.ts";
import { lostKeys } from "../yaml/json-keys.ts";
import { DEEPEST_NESTING } from "../yaml/reading.ts";
import { readYaml, type Trouble } from "../yaml/read-yaml.ts";
import { decodeText } from "./decode-text.ts";
import { lineIndex } from "./line-index.ts";
import { placeFaults, placeTrouble, type PlacedText } from "./place-faults.ts";

export interface ReadOptions {
  /** Most bytes (characters, for text) that are read; 8 MiB when left out. */
  readonly maxBytes?: number;
  /** The line of the file on which the text begins, for files with one record a line; 1 when left out. */
  readonly firstLine?: number;
}

export const DEFAULT_MAX_BYTES = 8 * 1024 * 1024;

/** An input that could be read as data, and that knows where each field stands. */
export interface OpenDocument {
  readonly data: Readonly<Record<string, unknown>>;
  /** Whether the text itself has faults, such as keys written twice. */
  readonly sound: boolean;
  /** Gives each fault its line and sorts them by it, together with the text's own. */
  readonly report: (faults: readonly FieldFault[]) => InputFault[];
}

export type Opened =
  | { readonly ok: true; readonly document: OpenDocument }
  | { readonly ok: false; readonly faults: readonly InputFault[] };

/** Reads YAML or JSON into data. Never throws: whatever is wrong comes back as a fault with its line. */
export function openDocument(source: string | Uint8Array, file: string, options: ReadOptions = {}): Opened {
  const limit = options.maxBytes ?? DEFAULT_MAX_BYTES;
  if (source.length > limit) return { ok: false, faults: [tooLarge(source.length, limit, file)] };
  const decoded = decodeText(source);
  const { text } = decoded;
  const placed: PlacedText = { text, file, placeOf: lineIndex(text, options.firstLine) };
  const read = decoded.ok ? readData(text) : { ok: false as const, trouble: { ...decoded, path: [] } };
  if (!read.ok) return { ok: false, faults: [placeTrouble(placed, read.trouble)] };
  const { data, duplicates } = read;
  if (!isMap(data)) return { ok: false, faults: [notAMap(data, placed)] };
  const report = (faults: readonly FieldFault[]): InputFault[] => placeFaults(placed, faults, duplicates);
  return { ok: true, document: { data, sound: duplicates.length === 0, report } };
}

type Data =
  | { readonly ok: true; readonly data: unknown; readonly duplicates: readonly Trouble[] }
  | { readonly ok: false; readonly trouble: Trouble };

/** JSON goes the fast way as long as nothing is wrong with it; JSON is YAML, so the slow way reads it too. */
function readData(text: string): Data {
  if (/^\s*\{/u.test(text)) {
    const data = parsedJson(text);
    if (data && !lostKeys(text, data, DEEPEST_NESTING)) return { ok: true, data, duplicates: [] };
  }
  return readYaml(text);
}

function parsedJson(text: string): object | undefined {
  try {
    return JSON.parse(text) as object;
  } catch {
    return undefined;
  }
}

function isMap(data: unknown): data is Record<string, unknown> {
  return typeof data === "object" && data !== null && !Array.isArray(data);
}

function tooLarge(size: number, limit: number, file: string): InputFault {
  const allowed = `at most ${limit} bytes`;
  const message = `The file has ${size} bytes; nothing in it was read.`;
  return {
    code: "INPUT_FILE_TOO_LARGE",
    file,
    line: null,
    column: null,
    field: "",
    value: null,
    allowed,
    message,
  };
}

function notAMap(data: unknown, { file, placeOf }: PlacedText): InputFault {
  const place = { file, field: "", allowed: "a map of fields that begins with its format line" };
  if (data === null) {
    const message = "Nothing is written in the file.";
    return { code: "INPUT_FILE_EMPTY", ...place, line: null, column: null, value: null, message };
  }
  const message = `The file is ${Array.isArray(data) ? "a list" : `a single ${typeof data === "string" ? "text" : typeof data}`}, not a map of fields.`;
  return { code: "INPUT_RECORD_NOT_A_MAP", ...place, ...placeOf(0), value: shownValue(data), message };
}
