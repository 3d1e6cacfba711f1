import { describe, expect, it } from "vitest";
import type { Block } from "../content/paper.ts";
import { breakLongWords } from "./long-words.ts";

const BREAK = "\u{e000}";
const LONG = "Pneumono".repeat(12);
const table = (cell: string, share = 0.2): Block => ({
  kind: "table",
  caption: "",
  columns: [
    { head: "a", share },
    { head: "b", share: 1 - share },
  ],
  rows: [[cell, cell]],
});
const cells = (block: Block): readonly string[] => {
  const [broken] = breakLongWords([block], "record");
  return broken?.kind === "table" ? broken.rows[0]! : [];
};

describe("long words of a paper", () => {
  it("may be broken where they are wider than their column, and nowhere else", () => {
    const word = LONG.slice(0, 40);
    const [narrow, wide] = cells(table(word));
    expect(narrow).toContain(BREAK);
    expect(narrow!.replaceAll(BREAK, "")).toBe(word);
    expect(wide).toBe(word);
  });

  it("leave ordinary words alone, however long the text", () => {
    const text = "an ordinary name of a place ".repeat(20);
    expect(cells(table(text))).toEqual([text, text]);
  });

  it("are not sought in ideographs, kana, Korean and pictures, between which a line breaks by itself", () => {
    const text = "漢字ひらカタ서울ＡＢ🌞👨‍👩‍👧🇪🇸".repeat(12);
    expect(cells(table(text))).toEqual([text, text]);
    expect(cells(table(text + LONG))[0]).toMatch(/^[^\u{e000}]+Pneumono\u{e000}Pneumono/u);
  });

  it("are never torn inside a character of two halves", () => {
    const [narrow] = cells(table("𝒜".repeat(40)));
    expect(narrow!.split(BREAK).every((piece) => !/^[\udc00-\udfff]|[\ud800-\udbff]$/u.test(piece))).toBe(
      true,
    );
  });

  it("may be broken in every kind of block", () => {
    const blocks: readonly Block[] = [
      { kind: "paragraph", text: LONG },
      { kind: "list", items: [LONG] },
      { kind: "cautions", title: "a", items: [LONG], reviewed: "" },
      { kind: "drawing", svg: "<svg/>", alt: "", caption: LONG, width: 1 },
      { kind: "figures", caption: "", rows: [{ label: LONG, value: "1", source: "a", tag: "computed" }] },
      { kind: "checklist", items: [{ text: LONG }] },
      { kind: "fields", rows: [{ label: "a", value: LONG }] },
      { kind: "signatures", roles: ["a"], named: [{ role: "a", name: LONG, on: "" }] },
      { kind: "columns", share: 0.5, left: [{ kind: "paragraph", text: LONG }], right: [] },
    ];
    for (const block of breakLongWords(blocks, "record"))
      expect(JSON.stringify(block), block.kind).toContain(BREAK);
  });
});
