import { isUnit } from "@earthbell/engine";
import { displayWidth, eachGrapheme } from "./width.ts";

/**
 * Breaks a text into lines of at most `columns` at its spaces. Words longer than a line are cut; no-break spaces hold, and
 * so does the space between a number and its unit, unless both do not fit into one line. Line breaks in the text are kept.
 * Wrap first and colour afterwards, line by line.
 */
export function wrap(text: string, columns: number): readonly string[] {
  const width = Math.max(1, Math.floor(columns));
  return text.split("\n").flatMap((paragraph) => wrapParagraph(paragraph, width));
}

function wrapParagraph(paragraph: string, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of wordsOf(paragraph, width)) {
    const joined = line === "" ? word : `${line} ${word}`;
    if (displayWidth(joined) <= width) {
      line = joined;
      continue;
    }
    if (line !== "") lines.push(line);
    const pieces = cutWord(word, width);
    lines.push(...pieces.slice(0, -1));
    line = pieces.at(-1) ?? "";
  }
  lines.push(line);
  return lines;
}

/** Words as they may stand on lines of their own: a number goes with its unit. */
function wordsOf(paragraph: string, width: number): string[] {
  const words: string[] = [];
  for (const word of paragraph.split(/[ \t]+/u).filter((one) => one !== "")) {
    const before = words.at(-1);
    const together = before !== undefined && endsAsNumber.test(before) && isUnit(word);
    if (together && displayWidth(`${before} ${word}`) <= width) words[words.length - 1] = `${before} ${word}`;
    else words.push(word);
  }
  return words;
}

const endsAsNumber = /[\d½⅓⅔]$/u;

function cutWord(word: string, width: number): string[] {
  const pieces: string[] = [];
  let piece = "";
  let used = 0;
  for (const { text, columns } of eachGrapheme(word)) {
    if (used + columns > width && used > 0) {
      pieces.push(piece);
      piece = "";
      used = 0;
    }
    piece += text;
    used += columns;
  }
  return [...pieces, piece];
}

/** Fills a text up to `columns` with spaces on the right; a longer one stays as it is. */
export function padEnd(text: string, columns: number): string {
  return text + " ".repeat(Math.max(0, columns - displayWidth(text)));
}

/** Fills a text up to `columns` with spaces on the left; a longer one stays as it is. */
export function padStart(text: string, columns: number): string {
  return " ".repeat(Math.max(0, columns - displayWidth(text))) + text;
}
