import { readAnchorName, refuseAnchor, refuseTag } from "./anchor.ts";
import {
  atDocumentMark,
  COLON,
  END,
  endsIndicator,
  HASH,
  isBlank,
  NEWLINE,
  skipBlanks,
  skipComment,
  SPACE,
} from "./characters.ts";
import { continuePlain, readPlainLine } from "./plain.ts";
import { plainValue } from "./plain-value.ts";
import { readQuoted } from "./quoted.ts";
import type { Reading } from "./reading.ts";

const [COMMA, QUOTE, APOSTROPHE, QUESTION, STAR, AMPERSAND] = [44, 34, 39, 63, 42, 38];
const [OPEN_MAP, CLOSE_MAP, OPEN_LIST, CLOSE_LIST] = [123, 125, 91, 93];

/** A bracket that is open: where, and how far the lines inside must be indented at least. */
interface Bracket {
  readonly open: number;
  readonly minIndent: number;
}

/** Reads a map or list in braces or brackets; this covers JSON. Lines must be indented at least `minIndent`. */
export function readFlowCollection(reading: Reading, minIndent: number): unknown {
  const bracket = { open: reading.pos, minIndent };
  const isMap = reading.peek() === OPEN_MAP;
  return reading.nested(() => (isMap ? readFlowMap(reading, bracket) : readFlowList(reading, bracket)));
}

function readFlowMap(reading: Reading, bracket: Bracket): Record<string, unknown> {
  const map: Record<string, unknown> = {};
  reading.pos++;
  for (;;) {
    skipFlowSpace(reading, bracket);
    if (reading.peek() === CLOSE_MAP) {
      reading.pos++;
      return map;
    }
    const offset = reading.pos;
    const key = readFlowKey(reading, bracket);
    skipFlowSpace(reading, bracket);
    const value = reading.within(key, offset, () => {
      if (reading.peek() !== COLON) return null;
      reading.pos++;
      skipFlowSpace(reading, bracket);
      return readFlowValue(reading, bracket);
    });
    reading.put(map, key, value, offset);
    separate(reading, bracket, CLOSE_MAP);
  }
}

function readFlowList(reading: Reading, bracket: Bracket): unknown[] {
  const list: unknown[] = [];
  reading.pos++;
  for (;;) {
    skipFlowSpace(reading, bracket);
    if (reading.peek() === CLOSE_LIST) {
      reading.pos++;
      return list;
    }
    if (reading.peek() === COMMA) reading.stop("There is nothing before this comma.");
    list.push(reading.within(list.length, reading.pos, () => readFlowValue(reading, bracket)));
    skipFlowSpace(reading, bracket);
    if (reading.peek() === COLON) reading.stop("A map inside a list needs its own braces: [{key: value}].");
    separate(reading, bracket, CLOSE_LIST);
  }
}

function separate(reading: Reading, bracket: Bracket, close: number): void {
  skipFlowSpace(reading, bracket);
  const code = reading.peek();
  if (code === COMMA) reading.pos++;
  else if (code !== close)
    reading.stop(
      `A comma or ${String.fromCharCode(close)} is expected here: ${opening(reading, bracket)} is still open.`,
    );
}

function readFlowKey(reading: Reading, bracket: Bracket): string {
  const code = reading.peek();
  if (code === QUOTE || code === APOSTROPHE) return readQuoted(reading, bracket.minIndent);
  if (code === QUESTION && endsIndicator(reading.peek(1)))
    reading.stop("Keys marked with ? are not read; write key: value.");
  refuseTag(reading);
  const key = readPlainLine(reading, "flow");
  if (key === "") reading.stop("A key is expected here, as plain or quoted text.");
  return key;
}

function readFlowValue(reading: Reading, bracket: Bracket): unknown {
  const code = reading.peek();
  if (code === COMMA || code === CLOSE_MAP || code === CLOSE_LIST) return null;
  reading.begin();
  if (code === OPEN_MAP || code === OPEN_LIST) return readFlowCollection(reading, bracket.minIndent);
  if (code === QUOTE || code === APOSTROPHE) return readQuoted(reading, bracket.minIndent);
  const offset = reading.pos;
  if (code === STAR) return reading.alias(readAnchorName(reading), offset);
  if (code === AMPERSAND) {
    const name = readAnchorName(reading);
    skipFlowSpace(reading, bracket);
    refuseAnchor(reading);
    return reading.anchored(name, () => readFlowValue(reading, bracket));
  }
  refuseTag(reading);
  const text = readPlainLine(reading, "flow");
  if (text === "")
    reading.stop(`${reading.text[offset] ?? ""} cannot begin a value; put the text in quotes.`);
  return text === "-" ? text : plainValue(continuePlain(reading, text, bracket.minIndent, "flow"));
}

/** Passes blanks, line ends and comments inside a bracket. */
function skipFlowSpace(reading: Reading, bracket: Bracket): void {
  for (;;) {
    skipBlanks(reading);
    if (reading.peek() === HASH) skipComment(reading);
    const code = reading.peek();
    if (code === END) neverClosed(reading, bracket);
    if (code !== NEWLINE) return;
    reading.newLine();
    while (reading.peek() === SPACE) reading.pos++;
    checkIndent(reading, bracket);
  }
}

function checkIndent(reading: Reading, bracket: Bracket): void {
  if (atDocumentMark(reading)) neverClosed(reading, bracket);
  if (reading.column >= bracket.minIndent) return;
  let ahead = 0;
  while (isBlank(reading.peek(ahead))) ahead++;
  const code = reading.peek(ahead);
  if (code === NEWLINE || code === HASH || code === END) return;
  reading.stop(
    `${opening(reading, bracket)} is still open, but this line is not indented further than the key it belongs to.`,
  );
}

function neverClosed(reading: Reading, bracket: Bracket): never {
  reading.stop(`${opening(reading, bracket)} is never closed.`, "INPUT_SYNTAX_INVALID", bracket.open);
}

function opening(reading: Reading, bracket: Bracket): string {
  return reading.text[bracket.open] ?? "";
}
