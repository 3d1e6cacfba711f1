import { marginFrom, type Page } from "./page.ts";
import { padEnd, wrap } from "./wrap.ts";

/** Lines of the reading column, with a note on where they come from. */
export interface NotedLines {
  /** Already wrapped to `textWidth`. */
  readonly lines: readonly string[];
  readonly note?: string;
}

const noteWidthLimit = 44;
const textWidthLimit = 84;
const gutter = 3;

/** Columns of the reading column: most of the page, or all of it when there is no room for a margin. */
export function textWidth(page: Page): number {
  if (page.width < marginFrom) return page.width;
  return Math.min(textWidthLimit, page.width - gutter - Math.floor(page.width / 3));
}

/**
 * Sets each note in the right-hand margin beside its lines, in secondary ink; on a narrow page below them, indented like
 * them and marked with an arrow.
 */
export function withMargin(blocks: readonly NotedLines[], page: Page): string[] {
  if (page.width < marginFrom) return blocks.flatMap((block) => noteBelow(block, page));
  const left = textWidth(page);
  const right = Math.min(noteWidthLimit, page.width - left - gutter);
  return blocks.flatMap(({ lines, note }) => {
    const notes = note === undefined ? [] : wrap(note, right);
    const height = Math.max(lines.length, notes.length);
    return Array.from({ length: height }, (_, index) => {
      const beside = notes[index];
      const text = lines[index] ?? "";
      if (beside === undefined) return text;
      return padEnd(text, left) + " ".repeat(gutter) + page.style.secondary(beside);
    });
  });
}

function noteBelow({ lines, note }: NotedLines, page: Page): readonly string[] {
  if (note === undefined) return lines;
  const indent = (/^ */u.exec(lines[0] ?? "")?.[0].length ?? 0) + 2;
  const arrow = page.ascii ? "> " : "↳ ";
  const wrapped = wrap(note, page.width - indent - arrow.length);
  return [
    ...lines,
    ...wrapped.map(
      (line, index) => " ".repeat(indent) + page.style.secondary((index === 0 ? arrow : "  ") + line),
    ),
  ];
}
