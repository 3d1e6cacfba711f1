import { readAnchorName, refuseAnchor, refuseTag } from "./anchor.ts";
import { readBlockText } from "./block-text.ts";
import {
  atDocumentMark,
  COLON,
  DASH,
  END,
  endsIndicator,
  expectLineEnd,
  HASH,
  NEWLINE,
  skipBlanks,
  skipToContent,
} from "./characters.ts";
import { readFlowCollection } from "./flow.ts";
import { continuePlain, isLoneDash, readPlainLine } from "./plain.ts";
import { plainValue } from "./plain-value.ts";
import { readQuoted } from "./quoted.ts";
import type { Reading } from "./reading.ts";

/**
 * Reads the value that begins at the position: a list of "- " items, a map of "key: " lines, a bracketed collection or a
 * scalar. Lists and maps take the column of the position as theirs; continued text must be indented more than `parentIndent`.
 */
export function readBlockValue(reading: Reading, parentIndent: number): unknown {
  reading.begin();
  const code = reading.peek();
  if (code === DASH && endsIndicator(reading.peek(1))) return reading.nested(() => readList(reading));
  if (code === 63 && endsIndicator(reading.peek(1)))
    reading.stop("Keys marked with ? are not read; write key: value.");
  if (code === 37 && reading.column === 0) reading.stop("Directives (%) are not read.");
  const start = reading.pos;
  const key = readKey(reading);
  if (key !== null) return reading.nested(() => readMap(reading, start, key));
  return readInline(reading, parentIndent);
}

function readList(reading: Reading): unknown[] {
  const list: unknown[] = [];
  const column = reading.column;
  do {
    const offset = reading.pos;
    list.push(reading.within(list.length, offset, () => readItem(reading, column)));
  } while (nextAt(reading, column) && reading.peek() === DASH && endsIndicator(reading.peek(1)));
  return list;
}

function readItem(reading: Reading, column: number): unknown {
  const dash = reading.pos++;
  skipBlanks(reading);
  const code = reading.peek();
  if (code !== NEWLINE && code !== HASH && code !== END) {
    if (reading.text.slice(dash, reading.pos).includes("\t"))
      reading.stop("A tab follows the dash; use a space.", "INPUT_TAB_INDENT", dash + 1);
    return readBlockValue(reading, column);
  }
  return skipToContent(reading) && reading.column > column ? readBlockValue(reading, column) : null;
}

function readMap(reading: Reading, firstOffset: number, firstKey: string): Record<string, unknown> {
  const map: Record<string, unknown> = {};
  const column = firstOffset - reading.lineStart;
  let key: string | null = firstKey;
  let offset = firstOffset;
  for (;;) {
    const value = reading.within(key, offset, () => readMapValue(reading, column));
    reading.put(map, key, value, offset);
    if (!nextAt(reading, column)) return map;
    offset = reading.pos;
    key = readKey(reading);
    if (key === null) reading.stop("A line of the form key: value is expected here.");
  }
}

/** Moves to the next line with content; true when it stands at this column, false when it belongs further out. */
function nextAt(reading: Reading, column: number): boolean {
  if (!skipToContent(reading) || atDocumentMark(reading)) return false;
  if (reading.column > column) reading.stop("This line is indented further than the lines it follows.");
  return reading.column === column;
}

/** Reads "key:" when one stands here, and leaves the position where it was when none does. */
function readKey(reading: Reading): string | null {
  const { pos } = reading;
  const code = reading.peek();
  const quoted = code === 34 || code === 39;
  if (quoted && !closesOnLine(reading)) return null;
  const key = quoted ? readQuoted(reading, 0) : readPlainLine(reading, "block");
  if (quoted || key !== "") {
    skipBlanks(reading);
    if (reading.peek() === COLON && endsIndicator(reading.peek(1))) {
      reading.pos++;
      return key;
    }
  }
  reading.pos = pos;
  return null;
}

/** Whether the quoted text that opens here also closes on this line, as a key must. */
function closesOnLine(reading: Reading): boolean {
  const { text } = reading;
  const quote = reading.peek();
  for (let at = reading.pos + 1; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === NEWLINE) return false;
    if (code === quote) {
      if (quote === 34 || text.charCodeAt(at + 1) !== quote) return true;
      at++;
    } else if (code === 92 && quote === 34 && text.charCodeAt(at + 1) !== NEWLINE) at++;
  }
  return false;
}

function readMapValue(reading: Reading, column: number): unknown {
  skipBlanks(reading);
  const code = reading.peek();
  const below = code === NEWLINE || code === HASH || code === END;
  return below ? readBelow(reading, column) : readInlineValue(reading, column);
}

/** The value of a key whose line is empty: further in, or a list at the key's own column, or nothing. */
function readBelow(reading: Reading, column: number, anchored = false): unknown {
  if (!skipToContent(reading) || atDocumentMark(reading)) return null;
  if (anchored && reading.column > column) refuseAnchor(reading);
  const listHere = reading.column === column && reading.peek() === DASH && endsIndicator(reading.peek(1));
  return reading.column > column || listHere ? readBlockValue(reading, column) : null;
}

/** A value that stands behind its key or a document mark, on the same line. */
export function readInlineValue(reading: Reading, parentIndent: number): unknown {
  reading.begin();
  return readInline(reading, parentIndent);
}

function readInline(reading: Reading, parentIndent: number): unknown {
  const code = reading.peek();
  const minIndent = parentIndent + 1;
  if (code === 123 || code === 91)
    return closing(reading, readFlowCollection(reading, minIndent), "a closed bracket");
  if (code === 34 || code === 39) return closing(reading, readQuoted(reading, minIndent), "quoted text");
  if (code === 124 || code === 62) return readBlockText(reading, parentIndent);
  if (code === 42) {
    const offset = reading.pos;
    return closing(reading, reading.alias(readAnchorName(reading), offset), "an alias");
  }
  if (code === 38) return readAnchored(reading, parentIndent);
  refuseTag(reading);
  const text = readPlainLine(reading, "block");
  if (text === "") reading.stop(whyNoValue(reading));
  const value = plainValue(text === "-" ? text : continuePlain(reading, text, minIndent, "block"));
  return closing(reading, value, "a value");
}

function closing(reading: Reading, value: unknown, what: string): unknown {
  expectLineEnd(reading, what);
  return value;
}

function whyNoValue(reading: Reading): string {
  const code = reading.peek();
  if (code === DASH && !isLoneDash(reading, "block"))
    return "A list must begin on a line of its own, under its key.";
  return `${reading.text[reading.pos] ?? ""} cannot begin a value; put the text in quotes.`;
}

function readAnchored(reading: Reading, parentIndent: number): unknown {
  const name = readAnchorName(reading);
  skipBlanks(reading);
  const code = reading.peek();
  const below = code === NEWLINE || code === HASH || code === END;
  return reading.anchored(name, () => {
    if (below) return readBelow(reading, parentIndent, true);
    refuseAnchor(reading);
    const pos = reading.pos;
    if (readKey(reading) !== null)
      reading.stop("An anchor on a key is not read; put it behind the colon.", "INPUT_SYNTAX_INVALID", pos);
    return readInline(reading, parentIndent);
  });
}
