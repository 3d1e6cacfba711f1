import { atDocumentMark, END, expectLineEnd, isBlank, NEWLINE, SPACE, TAB } from "./characters.ts";
import type { Reading } from "./reading.ts";

interface Header {
  readonly folded: boolean;
  /** clip: one line end is kept; strip (-): none; keep (+): all. */
  readonly chomp: "clip" | "strip" | "keep";
}

/**
 * Reads the indented text after | (line ends kept) or > (lines folded). The position ends at the start of the line behind it.
 * Indentation stated as a digit is not read: it is the first line's.
 */
export function readBlockText(reading: Reading, parentIndent: number): string {
  const header = readHeader(reading);
  const first = passEmptyLines(reading, Infinity);
  const indent = spacesAhead(reading);
  if (endsText(reading, parentIndent + 1)) return header.chomp === "keep" ? first.breaks : "";
  if (first.widest > indent) reading.stop("An empty line before this one is indented further than the text.");
  return readLines(reading, header, indent, first.breaks);
}

function readLines(reading: Reading, header: Header, indent: number, before: string): string {
  let text = before;
  const start = reading.pos;
  for (;;) {
    reading.limitLength(start);
    reading.pos += indent;
    const ordinary = !isBlank(reading.peek());
    const end = reading.text.indexOf("\n", reading.pos);
    const stop = end === -1 ? reading.text.length : end;
    text += reading.text.slice(reading.pos, stop);
    reading.pos = stop;
    if (reading.peek() === NEWLINE) reading.newLine();
    const { breaks } = passEmptyLines(reading, indent);
    if (endsText(reading, indent))
      return text + ({ strip: "", clip: "\n", keep: `\n${breaks}` } as const)[header.chomp];
    const fold = header.folded && ordinary && !isBlank(reading.peek(indent));
    text += fold ? breaks || " " : `\n${breaks}`;
  }
}

/** Whether the line here, which is not empty, is outside of text that is indented by `indent`. */
function endsText(reading: Reading, indent: number): boolean {
  const spaces = spacesAhead(reading);
  if (spaces < indent && reading.peek(spaces) === TAB)
    reading.stop("A tab stands where text is indented; use spaces.", "INPUT_TAB_INDENT");
  return reading.peek() === END || spaces < indent || atDocumentMark(reading) !== null;
}

function readHeader(reading: Reading): Header {
  const folded = reading.text[reading.pos] === ">";
  const mark = reading.text[++reading.pos];
  if (mark === "+" || mark === "-") reading.pos++;
  expectLineEnd(reading, "| or > (only + or - may be added)");
  if (reading.peek() === NEWLINE) reading.newLine();
  return { folded, chomp: mark === "+" ? "keep" : mark === "-" ? "strip" : "clip" };
}

function spacesAhead(reading: Reading): number {
  let spaces = 0;
  while (reading.peek(spaces) === SPACE) spaces++;
  return spaces;
}

/** Passes lines of at most `most` spaces and nothing else. */
function passEmptyLines(
  reading: Reading,
  most: number,
): { readonly breaks: string; readonly widest: number } {
  let breaks = "";
  let widest = 0;
  for (;;) {
    const spaces = spacesAhead(reading);
    const code = reading.peek(spaces);
    if (spaces > most || (code !== NEWLINE && code !== END)) return { breaks, widest };
    reading.pos += spaces;
    widest = Math.max(widest, spaces);
    if (code === END) return { breaks, widest };
    reading.newLine();
    breaks += "\n";
  }
}
