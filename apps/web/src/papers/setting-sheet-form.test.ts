import { readSettingSheet, settingSheetText } from "@earthbell/model";
import { describe, expect, it } from "vitest";
import { blankStep, formOfSheet, movedStep, typedSheet } from "./setting-sheet-form.ts";

const SHEET = `format: earthbell.setting-sheet/1
id: gannet
device: {family: Gannet (invented), firmware: "2.1"}
by: a team
reviewedOn: 2026-11-02
cautions: [Live behind the cover.]
steps:
  - {do: Read the threshold., value: 30 kΩ, source: design record, tag: computed}
  - {do: Close the cover., why: it seals, caution: Prove dead first., source: our own rule, tag: user}
`;

const keysOf = (steps: readonly { readonly key: string }[]): string => steps.map(({ key }) => key).join("");

describe("the form of a setting sheet", () => {
  it("filled in from a sheet makes the same sheet again", () => {
    const read = readSettingSheet(SHEET, "s.yaml");
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    const text = settingSheetText(typedSheet(formOfSheet(read.record, 1)));
    expect(readSettingSheet(text, "t.yaml")).toEqual(read);
  });

  it.each([
    ["b", -1, "bac"],
    ["b", 1, "acb"],
    ["a", -1, "abc"],
    ["c", 1, "abc"],
    ["a", 1, "bac"],
  ] as const)("moves step %s by %i", (key, by, order) => {
    expect(keysOf(movedStep(["a", "b", "c"].map(blankStep), key, by))).toBe(order);
  });
});
