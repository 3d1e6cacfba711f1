import { describe, expect, it } from "vitest";
import type { Block } from "../content/paper.ts";
import { sizesToTry } from "./notice-size.ts";

const blocks = (characters: number): readonly Block[] => [
  { kind: "paragraph", text: "x".repeat(characters) },
];

describe("the sizes of type that are tried for a paper", () => {
  it("become smaller, down to the smallest, so that a page that is too full is tried again", () => {
    const sizes = sizesToTry({ look: "notice", blocks: blocks(2400) });
    expect(sizes).toEqual(sizes.toSorted((one, other) => other - one));
    expect(sizes.length).toBeGreaterThan(1);
    expect(sizesToTry({ look: "notice", blocks: blocks(10 ** 6) })).toEqual([sizes.at(-1)]);
  });

  it("begin smaller the more there is to say", () => {
    const [little, much] = [blocks(1600), blocks(3200)].map(
      (one) => sizesToTry({ look: "notice", blocks: one })[0]!,
    );
    expect(little).toBeGreaterThan(much!);
  });

  it("are one only where a paper takes as many pages as it needs", () => {
    expect(sizesToTry({ look: "record", blocks: blocks(10 ** 6) })).toHaveLength(1);
  });
});
