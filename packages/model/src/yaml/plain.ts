import {
  COLON,
  DASH,
  END,
  endsIndicator,
  HASH,
  isBlank,
  isFlowIndicator,
  NEWLINE,
  skipBlanks,
} from "./characters.ts";
import type { Reading } from "./reading.ts";

export type Style = "block" | "flow";

/**
 * Reads unquoted text up to the end of its line, a comment, a ": " or, in flow style, one of , [ ] { }. The position ends
 * behind its last character. Empty when the character here cannot begin such text.
 *
 * A lone - is read as text where a value is wanted: it names the negative terminal. (YAML itself calls that an error, so
 * nothing that is YAML changes its meaning.)
 */
export function readPlainLine(reading: Reading, style: Style): string {
  const { text } = reading;
  const start = reading.pos;
  if (!mayBegin(reading, style)) return "";
  let at = start;
  let end = start;
  for (; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === NEWLINE || (style === "flow" && isFlowIndicator(code))) break;
    if (code === COLON && endsKey(text, at + 1, style)) break;
    if (isBlank(code)) {
      if (text.charCodeAt(at + 1) === HASH) break;
    } else end = at + 1;
  }
  reading.pos = end;
  return text.slice(start, end);
}

function endsKey(text: string, at: number, style: Style): boolean {
  const next = at < text.length ? text.charCodeAt(at) : END;
  return endsIndicator(next) || (style === "flow" && isFlowIndicator(next));
}

const NEVER_FIRST = new Set(Array.from("!&*|>%@`#,[]{}\"'", (character) => character.charCodeAt(0)));

function mayBegin(reading: Reading, style: Style): boolean {
  const code = reading.peek();
  if (code === END || code === NEWLINE || NEVER_FIRST.has(code)) return false;
  const next = reading.peek(1);
  const alone = endsIndicator(next) || (style === "flow" && isFlowIndicator(next));
  if (code === DASH && alone) return isLoneDash(reading, style);
  return (code !== COLON && code !== 63) || !alone;
}

/** A - with nothing after it on its line (or before the next , ] } in flow style). */
export function isLoneDash(reading: Reading, style: Style): boolean {
  if (reading.peek() !== DASH) return false;
  let ahead = 1;
  while (isBlank(reading.peek(ahead))) ahead++;
  const code = reading.peek(ahead);
  if (style === "flow") return isFlowIndicator(code) && code !== 91 && code !== 123;
  return code === END || code === NEWLINE || (code === HASH && ahead > 1);
}

/**
 * Goes on with unquoted text over the following lines, folding line ends as YAML folds them. Each line must be indented at
 * least `minIndent`; a comment ends the text.
 */
export function continuePlain(reading: Reading, first: string, minIndent: number, style: Style): string {
  let value = first;
  const start = reading.pos - first.length;
  for (;;) {
    const mark = { pos: reading.pos, lineStart: reading.lineStart };
    const breaks = passLineEnds(reading);
    const more = breaks > 0 && reading.column >= minIndent && !atMark(reading) && !endsFlow(reading, style);
    if (more && reading.text.slice(reading.lineStart, reading.pos).includes("\t"))
      reading.stop("A tab is used to indent a line; use spaces.", "INPUT_TAB_INDENT", reading.lineStart);
    const line = more ? readPlainRest(reading, style) : "";
    if (line === "") {
      reading.pos = mark.pos;
      reading.lineStart = mark.lineStart;
      return value;
    }
    reading.limitLength(start);
    value += (breaks === 1 ? " " : "\n".repeat(breaks - 1)) + line;
  }
}

/** Passes blanks and line ends; the number of line ends passed. */
function passLineEnds(reading: Reading): number {
  let breaks = 0;
  for (;;) {
    skipBlanks(reading);
    if (reading.peek() !== NEWLINE) return breaks;
    reading.newLine();
    breaks++;
    while (reading.peek() === 32) reading.pos++;
  }
}

function endsFlow(reading: Reading, style: Style): boolean {
  const code = reading.peek();
  if (code === END || code === HASH) return true;
  const endsHere = isFlowIndicator(code) || (code === COLON && endsKey(reading.text, reading.pos + 1, style));
  return style === "flow" && endsHere;
}

function atMark(reading: Reading): boolean {
  return (
    reading.column === 0 && /^(?:---|\.\.\.)(?:\s|$)/u.test(reading.text.slice(reading.pos, reading.pos + 4))
  );
}

/** In a continued line any character may come first, so the indicators need not be minded. */
function readPlainRest(reading: Reading, style: Style): string {
  const { text } = reading;
  const start = reading.pos;
  let end = start;
  for (let at = start; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === NEWLINE || (style === "flow" && isFlowIndicator(code))) break;
    if (code === COLON && endsKey(text, at + 1, style))
      reading.stop(
        "A key must stand on one line of its own; is this line indented too far?",
        "INPUT_SYNTAX_INVALID",
        at,
      );
    if (isBlank(code)) {
      if (text.charCodeAt(at + 1) === HASH) break;
    } else end = at + 1;
  }
  reading.pos = end;
  return text.slice(start, end);
}
