import { describe, expect, test } from "vitest";
import { COMMISSIONING_YAML } from "../fixtures/commissioning-file.ts";
import type { HeldSheet } from "../setting-sheet/held-sheet.ts";
import { readCommissioning } from "./read-commissioning.ts";

const DIGEST = "7d1a54127b222502f5b79b5fb0803061152a44f92b37e23c6527baf665d4da9a";
const words = [
  "Read the threshold.",
  "Let the relay tell of earth faults only.",
  "Send a test message.",
] as const;

function held(steps: readonly string[], digest = DIGEST): HeldSheet {
  return {
    ...{ revision: 3, digest },
    sheet: {
      ...{ id: "fulmar", device: { family: "Fulmar (invented)" }, by: "a team", reviewedOn: "2026-03-01" },
      cautions: [],
      steps: steps.map((text) => ({ do: text, source: "a team", tag: "user" as const })),
    },
  };
}
const faults = (...sheets: readonly HeldSheet[]) => {
  const read = readCommissioning(COMMISSIONING_YAML, "c.yaml", null, { sheets });
  return read.ok ? [] : read.faults.map(({ code, field }) => [code, field]);
};

describe("a ticked setting sheet beside the sheet at hand", () => {
  test("is taken where the steps are those of the sheet", () => {
    expect(faults(held(words))).toEqual([]);
  });

  test("is refused where a step reads otherwise under the same digest", () => {
    expect(faults(held([words[0], "Let it tell of everything.", words[2]]))).toEqual([
      ["COMMISSIONING_SHEET_ALTERED", "settings[0].steps[1].do"],
    ]);
  });

  test("is refused where the sheet has a step more at its end, which nothing else would show", () => {
    expect(faults(held([...words, "Wait until somebody has acknowledged it."]))).toEqual([
      ["COMMISSIONING_SHEET_STEPS_WRONG", "settings[0].steps"],
    ]);
  });

  test("is taken where another revision of the sheet is at hand: the record says that it has changed", () => {
    expect(faults(held([words[0]], "0".repeat(64)))).toEqual([]);
  });
});

describe("two lists of one setting sheet", () => {
  const list = (device: string): string =>
    `  - {sheet: fulmar, title: F, digest: ${DIGEST}, ${device}steps: [{step: 1, do: Read it.}]}\n`;
  const of = (more: string) =>
    readCommissioning(COMMISSIONING_YAML.replace("drills:\n", `${more}drills:\n`), "c.yaml", null);

  test("are taken for two devices", () => {
    expect(of(list("device: J, ")).ok).toBe(true);
    expect(of(list("")).ok).toBe(true);
  });

  test("are refused for one device", () => {
    const read = of(list("device: I, "));
    expect(read.ok ? [] : read.faults).toMatchObject([
      { code: "COMMISSIONING_SHEET_TWICE", field: "settings[1].sheet", line: 24 },
    ]);
  });
});
