import { END, isBlank, NEWLINE } from "./characters.ts";
import type { Reading } from "./reading.ts";

const ESCAPES: Readonly<Record<string, string>> = {
  "0": "\0",
  a: "\x07",
  b: "\b",
  t: "\t",
  "\t": "\t",
  n: "\n",
  v: "\v",
  f: "\f",
  r: "\r",
  e: "\x1b",
  " ": " ",
  '"': '"',
  "/": "/",
  "\\": "\\",
  N: "\x85",
  _: "\xa0",
  L: "\u2028",
  P: "\u2029",
};
const BACKSLASH = 92;
const HEX_DIGITS: Readonly<Record<string, number>> = { x: 2, u: 4, U: 8 };

/**
 * Reads a quoted scalar; the position is at its opening quote and ends after the closing one. Lines are folded as YAML
 * folds them. Continued lines must be indented at least `minIndent`.
 */
export function readQuoted(reading: Reading, minIndent: number): string {
  const quote = reading.text[reading.pos]!;
  const start = reading.pos;
  reading.pos++;
  let value = "";
  for (;;) {
    const from = reading.pos;
    skipOrdinary(reading, quote);
    value += reading.text.slice(from, reading.pos);
    const found = reading.text[reading.pos];
    reading.limitLength(start);
    if (found === undefined)
      reading.stop(`The text that opens with ${quote} is never closed.`, "INPUT_SYNTAX_INVALID", start);
    if (found === "\n") value = trimBlanks(value, from, reading) + foldedBreaks(reading, minIndent);
    else if (found === "\\") value += readEscape(reading, minIndent);
    else if (quote === "'" && reading.text[reading.pos + 1] === "'") {
      value += "'";
      reading.pos += 2;
    } else {
      reading.pos++;
      return value;
    }
  }
}

function skipOrdinary(reading: Reading, quote: string): void {
  const { text } = reading;
  const close = quote.charCodeAt(0);
  const escape = quote === '"' ? BACKSLASH : close;
  let at = reading.pos;
  for (; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === close || code === NEWLINE || code === escape) break;
  }
  reading.pos = at;
}

/** Blanks before a line end fall away, but not those an escape put there. */
function trimBlanks(value: string, from: number, reading: Reading): string {
  let blanks = 0;
  while (reading.pos - blanks > from && isBlank(reading.peek(-1 - blanks))) blanks++;
  return value.slice(0, value.length - blanks);
}

/** One line end folds to a space, each further one is kept. */
function foldedBreaks(reading: Reading, minIndent: number): string {
  let breaks = 0;
  while (reading.peek() === NEWLINE) {
    reading.newLine();
    breaks++;
    const indent = countSpaces(reading);
    while (isBlank(reading.peek())) reading.pos++;
    const blankLine = reading.peek() === NEWLINE || reading.peek() === END;
    if (!blankLine && (indent < minIndent || atDocumentMark(reading, indent)))
      reading.stop("Quoted text goes on here, but the line is not indented under its key.");
  }
  return breaks === 1 ? " " : "\n".repeat(breaks - 1);
}

function countSpaces(reading: Reading): number {
  let spaces = 0;
  while (reading.peek(spaces) === 32) spaces++;
  return spaces;
}

function atDocumentMark(reading: Reading, indent: number): boolean {
  return indent === 0 && /^(?:---|\.\.\.)(?:\s|$)/u.test(reading.text.slice(reading.pos, reading.pos + 4));
}

function readEscape(reading: Reading, minIndent: number): string {
  const letter = reading.text[reading.pos + 1] ?? "";
  const width = HEX_DIGITS[letter];
  if (letter === "\n") {
    reading.pos++;
    const folded = foldedBreaks(reading, minIndent);
    return folded === " " ? "" : folded;
  }
  if (width === undefined) {
    const character = ESCAPES[letter];
    if (character === undefined) reading.stop(`\\${letter} is not an escape; write \\\\ for a backslash.`);
    reading.pos += 2;
    return character;
  }
  const digits = reading.text.slice(reading.pos + 2, reading.pos + 2 + width);
  const code = /^[0-9a-fA-F]+$/u.test(digits) && digits.length === width ? Number(`0x${digits}`) : Infinity;
  if (code > 0x10ffff)
    reading.stop(`\\${letter} must be followed by ${width} hexadecimal digits of a character.`);
  reading.pos += 2 + width;
  // Code units, so that the two halves of a JSON surrogate pair meet again.
  return width === 4 ? String.fromCharCode(code) : String.fromCodePoint(code);
}
