import type { Reading } from "./reading.ts";

export const TAB = 9;
export const NEWLINE = 10;
export const SPACE = 32;
export const HASH = 35;
export const DASH = 45;
export const COLON = 58;
export const END = -1;

export function isBlank(code: number): boolean {
  return code === SPACE || code === TAB;
}

/** A space, a tab, a line end or the end of the text: what must follow an indicator. */
export function endsIndicator(code: number): boolean {
  return code === SPACE || code === NEWLINE || code === TAB || code === END;
}

/** One of , [ ] { } */
export function isFlowIndicator(code: number): boolean {
  return code === 44 || code === 91 || code === 93 || code === 123 || code === 125;
}

export function skipBlanks(reading: Reading): void {
  while (isBlank(reading.peek())) reading.pos++;
}

/** Passes a comment, if one begins here; a # counts only after a blank or at the start of a line. */
export function skipComment(reading: Reading): void {
  if (reading.peek() !== HASH) return;
  if (reading.pos > reading.lineStart && !isBlank(reading.peek(-1)))
    reading.stop("A comment needs a space before its #.");
  const end = reading.text.indexOf("\n", reading.pos);
  reading.pos = end === -1 ? reading.text.length : end;
}

/** Moves to the next character that is neither blank, line end nor comment. False at the end of the text. */
export function skipToContent(reading: Reading): boolean {
  for (;;) {
    while (reading.peek() === SPACE) reading.pos++;
    const indent = reading.pos;
    skipBlanks(reading);
    skipComment(reading);
    const code = reading.peek();
    if (code === END) return false;
    if (code !== NEWLINE) {
      if (indent !== reading.pos && onlyBlankBefore(reading, indent))
        reading.stop("A tab is used to indent a line; use spaces.", "INPUT_TAB_INDENT", indent);
      return true;
    }
    reading.newLine();
  }
}

function onlyBlankBefore(reading: Reading, offset: number): boolean {
  for (let at = reading.lineStart; at < offset; at++) if (!isBlank(reading.text.charCodeAt(at))) return false;
  return true;
}

/** After a value that closes its line: only a comment may follow. */
export function expectLineEnd(reading: Reading, what: string): void {
  skipBlanks(reading);
  skipComment(reading);
  const code = reading.peek();
  if (code === END || code === NEWLINE) return;
  if (code === COLON) reading.stop(`A colon follows ${what}; put text that holds ": " in quotes.`);
  reading.stop(`Unexpected text after ${what}.`);
}

/** "---" or "..." at the start of a line ends the document. */
export function atDocumentMark(reading: Reading): "---" | "..." | null {
  if (reading.column !== 0) return null;
  const mark = reading.text.slice(reading.pos, reading.pos + 3);
  return (mark === "---" || mark === "...") && endsIndicator(reading.peek(3)) ? mark : null;
}
