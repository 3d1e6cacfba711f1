import type { InputFault } from "../faults/input-fault.ts";
import { fieldName, shownValue, type FieldFault } from "../fields/field-fault.ts";
import { lostKeys } from "../yaml/json-keys.ts";
import { DEEPEST_NESTING, type Path } from "../yaml/reading.ts";
import { readYaml, watchYaml, type Trouble } from "../yaml/read-yaml.ts";
import { decodeText } from "./decode-text.ts";
import { lineIndex, type Place } from "./line-index.ts";

export interface ReadOptions {
  /** Most bytes (characters, for text) that are read; 8 MiB when left out. */
  readonly maxBytes?: number;
  /** The line of the file on which the text begins, for files with one record a line; 1 when left out. */
  readonly firstLine?: number;
}

export const DEFAULT_MAX_BYTES = 8 * 1024 * 1024;

/** More faults than this are counted and not listed. */
const MOST_FAULTS = 1000;

/** An input that could be read as data; it knows where each field stands. */
export interface OpenDocument {
  readonly data: Readonly<Record<string, unknown>>;
  /** Faults of the document itself, such as keys written twice. */
  readonly troubles: readonly Trouble[];
  /** Gives each fault its line and sorts them by it, together with the document's own. */
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
  const places = lineIndex(decoded.text, options.firstLine);
  if (!decoded.ok) {
    const { code, offset, message } = decoded;
    const place = offset < 0 ? null : places(offset);
    return { ok: false, faults: [textFault({ code, offset, path: [], message }, file, place)] };
  }
  const read = readData(decoded.text);
  if (!read.ok) return { ok: false, faults: [textFault(read.trouble, file, places(read.trouble.offset))] };
  const { data, troubles } = read;
  if (!isMap(data)) return { ok: false, faults: [notAMap(data, file, places(0))] };
  const report = (faults: readonly FieldFault[]): InputFault[] =>
    reported(decoded.text, file, places, faults, troubles);
  return { ok: true, document: { data, troubles, report } };
}

type Data =
  | { readonly ok: true; readonly data: unknown; readonly troubles: readonly Trouble[] }
  | { readonly ok: false; readonly trouble: Trouble };

/** JSON goes the fast way as long as nothing is wrong with it; JSON is YAML, so the slow way reads it too. */
function readData(text: string): Data {
  if (/^\s*\{/u.test(text)) {
    const data = parsedJson(text);
    if (data !== undefined && !lostKeys(text, data, DEEPEST_NESTING)) return { ok: true, data, troubles: [] };
  }
  const read = readYaml(text);
  return read.ok ? { ok: true, data: read.data, troubles: read.duplicates } : read;
}

function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}

function isMap(data: unknown): data is Record<string, unknown> {
  return typeof data === "object" && data !== null && !Array.isArray(data);
}

function reported(
  text: string,
  file: string,
  places: (offset: number) => Place,
  faults: readonly FieldFault[],
  troubles: readonly Trouble[],
): InputFault[] {
  const offsets = offsetsOf(text, faults);
  const placed = [
    ...troubles.map((trouble) => textFault(trouble, file, places(trouble.offset))),
    ...faults.map((fault) => fieldFault(fault, file, places(offsets(fault)))),
  ].sort((a, b) => (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0));
  if (placed.length <= MOST_FAULTS) return placed;
  return [...placed.slice(0, MOST_FAULTS), tooMany(placed[MOST_FAULTS]!, placed.length - MOST_FAULTS)];
}

/** Where each fault points: its value or key, else the nearest of its parents that is written. */
function offsetsOf(text: string, faults: readonly FieldFault[]): (fault: FieldFault) => number {
  const wanted = new Set(
    faults.flatMap(({ path }) => path.map((_, depth) => pathKey(path.slice(0, depth + 1)))),
  );
  const found = new Map<string, number>();
  if (wanted.size > 0)
    watchYaml(text, (path, part, offset) => {
      const key = pathKey(path);
      if (!wanted.has(key)) return;
      found.set(`${part} ${key}`, offset);
    });
  return ({ path, part }) => {
    for (let depth = path.length; depth > 0; depth--) {
      const key = pathKey(path.slice(0, depth));
      const offset =
        (part === "key" ? found.get(`key ${key}`) : undefined) ??
        found.get(`value ${key}`) ??
        found.get(`key ${key}`);
      if (offset !== undefined) return offset;
    }
    return 0;
  };
}

function pathKey(path: Path): string {
  return path.join("\u0000");
}

function textFault(trouble: Trouble, file: string, place: Place | null): InputFault {
  const { code, path, message } = trouble;
  return {
    code,
    file,
    ...at(place),
    field: fieldName(path),
    value: null,
    allowed: ALLOWED_TEXT[code] ?? TEXT,
    message,
  };
}

const TEXT = "one record in YAML or JSON, in UTF-8";
const ALLOWED_TEXT: Readonly<Record<string, string>> = {
  INPUT_KEY_DUPLICATE: "each key once in a map",
  INPUT_NESTING_TOO_DEEP: `at most ${DEEPEST_NESTING} maps and lists inside one another`,
};

function at(place: Place | null): { line: number | null; column: number | null } {
  return { line: place?.line ?? null, column: place?.column ?? null };
}

function fieldFault(fault: FieldFault, file: string, place: Place): InputFault {
  const { code, path, value, allowed, message } = fault;
  return { code, file, ...at(place), field: fieldName(path), value: shownValue(value), allowed, message };
}

function tooLarge(size: number, limit: number, file: string): InputFault {
  const allowed = `at most ${limit} bytes`;
  const message = `The file has ${size} bytes; nothing in it was read.`;
  return { code: "INPUT_FILE_TOO_LARGE", file, ...at(null), field: "", value: null, allowed, message };
}

function notAMap(data: unknown, file: string, place: Place): InputFault {
  const empty = data === null || data === undefined;
  const found = Array.isArray(data) ? "a list" : `the ${typeof data} ${shownValue(data) ?? ""}`;
  return {
    code: empty ? "INPUT_FILE_EMPTY" : "INPUT_RECORD_NOT_A_MAP",
    file,
    ...at(empty ? null : place),
    field: "",
    value: shownValue(data),
    allowed: "a map of fields that begins with its format line",
    message: empty ? "Nothing is written in the file." : `The file is ${found}, not a map of fields.`,
  };
}

function tooMany(next: InputFault, rest: number): InputFault {
  const message = `${rest} more faults are not listed; mend these first.`;
  return {
    ...next,
    code: "INPUT_FAULTS_TOO_MANY",
    field: "",
    value: null,
    allowed: "a file without faults",
    message,
  };
}
