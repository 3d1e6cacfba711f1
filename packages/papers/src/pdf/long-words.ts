import type { Block, Fields, Figures, Paper, Table } from "../content/paper.ts";
import { WIDE_LETTERS } from "./wide-letters.ts";

/** Marks where a word may be broken; the layout prints nothing for it, and no font has a picture for it. */
const BREAK = "\u{e000}";
/** Characters between two such places. */
const PIECE = 8;
/** Characters that surely fit on a line: of the text, of half a page, and of the narrow side of two columns. */
const LINE = 55;
const HALF = 26;
const CAPTION = 22;
/** Beside three others. */
const NARROW = 12;
/** Width of the text [pt]: A4 between its margins, upright and lying. */
const UPRIGHT = 487;
const LYING = 734;
/** A wide letter in a cell, and what is kept free beside the letters [pt]. */
const WIDE_LETTER = 6.2;
const CELL_MARGIN = 8;
const FIGURE_SHARES = [0.366, 0.3, 0.333] as const;

/** The content with places at which words may be broken that are longer than their line or column. */
export function breakLongWords(blocks: readonly Block[], look: Paper["look"]): readonly Block[] {
  return blocks.map((block) => broken(block, look, false));
}

/** A text in a line of the whole width. */
export function breakLongLine(text: string): string {
  return within(text, LINE);
}

function broken(block: Block, look: Paper["look"], beside: boolean): Block {
  const most = beside ? HALF : LINE;
  switch (block.kind) {
    case "heading":
    case "paragraph":
      return { ...block, text: within(block.text, most) };
    case "list":
      return { ...block, items: block.items.map((item) => within(item, most)) };
    case "cautions":
      return {
        ...block,
        title: within(block.title, most),
        items: block.items.map((item) => within(item, most)),
      };
    case "drawing":
      return { ...block, caption: within(block.caption, beside ? CAPTION : LINE) };
    case "photographs": {
      const most = block.across === 2 ? CAPTION : NARROW;
      return {
        ...block,
        items: block.items.map((item) => ({ ...item, caption: within(item.caption, most) })),
      };
    }
    case "table":
      return brokenTable(block, look === "wide" ? LYING : UPRIGHT);
    case "figures":
      return brokenFigures(block);
    case "checklist": {
      const items = block.items.map(({ text, note }) => ({
        text: within(text, most),
        ...(note === undefined ? {} : { note: within(note, most) }),
      }));
      return { ...block, items };
    }
    case "fields":
      return brokenFields(block);
    case "signatures": {
      const named = (block.named ?? []).map((one) => ({ ...one, name: within(one.name, CAPTION) }));
      return { ...block, named };
    }
    case "columns":
      return {
        ...block,
        left: block.left.map((one) => broken(one, look, true)),
        right: block.right.map((one) => broken(one, look, true)),
      };
  }
}

function brokenFigures(figures: Figures): Figures {
  const [label, value, source] = FIGURE_SHARES.map((share) => lettersIn(share, UPRIGHT));
  const rows = figures.rows.map((row) => ({
    ...row,
    label: within(row.label, label!),
    value: within(row.value, value!),
    source: within(row.source, source!),
  }));
  return { ...figures, rows };
}

function brokenFields(fields: Fields): Fields {
  const rows = fields.rows.map(({ value, label, ...row }) => ({
    ...row,
    label: within(label, HALF),
    ...(value === undefined ? {} : { value: within(value, HALF) }),
  }));
  return { ...fields, rows };
}

function brokenTable(table: Table, width: number): Table {
  const letters = table.columns.map(({ share }) => lettersIn(share, width));
  const rows = table.rows.map((row) => row.map((cell, column) => within(cell, letters[column] ?? LINE)));
  return { ...table, caption: within(table.caption, LINE), rows };
}

function lettersIn(share: number, width: number): number {
  return Math.max(PIECE, Math.floor((share * width - CELL_MARGIN) / WIDE_LETTER));
}

/** A line breaks by itself after a space or a hyphen, and between wide letters. */
const WORD = new RegExp(String.raw`[^\s\-${WIDE_LETTERS}]+`, "gu");

function within(text: string, most: number): string {
  if (text.length <= most) return text;
  return text.replace(WORD, (word) => {
    const letters = Array.from(word);
    if (letters.length <= most) return word;
    return letters.map((letter, at) => (at > 0 && at % PIECE === 0 ? BREAK + letter : letter)).join("");
  });
}
