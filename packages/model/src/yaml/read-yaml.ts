import { readBlockValue, readInlineValue } from "./block.ts";
import { atDocumentMark, skipToContent } from "./characters.ts";
import { Reading, ReadingStopped, type Path } from "./reading.ts";
import type { FaultCode } from "../faults/catalogue.ts";

export interface Trouble {
  readonly code: FaultCode;
  readonly offset: number;
  readonly path: Path;
  readonly message: string;
}

export type YamlResult =
  | { readonly ok: true; readonly data: unknown; readonly duplicates: readonly Trouble[] }
  | { readonly ok: false; readonly trouble: Trouble };

/**
 * Reads one YAML document, or JSON, which is a part of YAML, into plain data.
 *
 * Read: maps and lists in block and flow style, plain and quoted text over one or several lines, text blocks (| and >), comments,
 * anchors and aliases up to a limit, one document. Refused with a reason: tags, directives, ? keys, keys that are not text, tabs
 * as indentation. Beyond YAML: a lone - where a value is wanted is text, because it names the negative terminal.
 *
 * Time and memory are linear in the length of the text; nesting is limited. Never throws.
 * Check: read-yaml.property.test.ts compares every accepted text with the `yaml` package.
 */
export function readYaml(text: string): YamlResult {
  const reading = new Reading(withLastLineEnded(text));
  try {
    const data = readDocument(reading);
    return { ok: true, data, duplicates: reading.duplicates.map(duplicateTrouble) };
  } catch (stopped) {
    if (!(stopped instanceof ReadingStopped)) throw stopped;
    const { code, offset, message } = stopped;
    return { ok: false, trouble: { code, offset, path: [], message } };
  }
}

/** Calls `watch` with the place of every key and value, for a text that `readYaml` has read. */
export function watchYaml(
  text: string,
  watch: (path: Path, part: "key" | "value", offset: number) => void,
): void {
  readDocument(new Reading(withLastLineEnded(text), watch));
}

/** A last line without its end means the same with it, also in text blocks. */
function withLastLineEnded(text: string): string {
  return text.endsWith("\n") ? text : `${text}\n`;
}

function duplicateTrouble({ path, offset }: { path: Path; offset: number }): Trouble {
  const key = String(path.at(-1));
  return { code: "INPUT_KEY_DUPLICATE", offset, path, message: `${key} is written twice in the same map.` };
}

function readDocument(reading: Reading): unknown {
  const content = skipToContent(reading);
  if (content && atDocumentMark(reading) === "...") reading.stop("The document ends here before it began.");
  const marked = content && atDocumentMark(reading) === "---";
  const data = marked ? readMarked(reading) : content ? readBlockValue(reading, -1) : null;
  if (skipToContent(reading)) endDocument(reading);
  return data;
}

/** The value behind "---", on that line or below. */
function readMarked(reading: Reading): unknown {
  reading.pos += 3;
  const line = reading.lineStart;
  if (!skipToContent(reading) || atDocumentMark(reading)) return null;
  return reading.lineStart === line ? readInlineValue(reading, -1) : readBlockValue(reading, -1);
}

function endDocument(reading: Reading): void {
  const mark = atDocumentMark(reading);
  if (mark === "...") {
    reading.pos += 3;
    if (!skipToContent(reading)) return;
  }
  if (mark)
    reading.stop(
      "A second document begins here; one file holds one document.",
      "INPUT_DOCUMENTS_MORE_THAN_ONE",
    );
  reading.stop("This line is indented less than the first, or follows a value that is complete.");
}
