import { describe, expect, it } from "vitest";
import { readSettingSheet } from "./read-setting-sheet.ts";
import { settingSheetText } from "./setting-sheet-text.ts";

const SHEET = `format: earthbell.setting-sheet/1
id: gannet
device: {family: Gannet (invented)}
by: a team
reviewedOn: 2026-11-02
steps:
  - {do: Read the threshold., value: 30 kΩ, source: design record, tag: computed}
`;

describe("readSettingSheet", () => {
  it("reads every step, and no cautions where none are written", () => {
    expect(readSettingSheet(SHEET, "s.yaml")).toMatchObject({
      ok: true,
      record: {
        id: "gannet",
        cautions: [],
        steps: [{ do: "Read the threshold.", value: "30 kΩ", tag: "computed" }],
      },
    });
  });

  it.each([
    ["a day of no calendar", "2026-11-02", "2026-11-31", "reviewedOn", "INPUT_DATE_INVALID"],
    ["an unknown tag", "tag: computed", "tag: hearsay", "steps[0].tag", "INPUT_CHOICE_UNKNOWN"],
    ["a step without a source", "source: design record, ", "", "steps[0].source", "INPUT_FIELD_MISSING"],
    ["another format", "setting-sheet/1", "visit/1", "format", "INPUT_FORMAT_WRONG"],
  ])("points at %s", (_, sound, broken, field, code) => {
    expect(SHEET).toContain(sound);
    const read = readSettingSheet(SHEET.replace(sound, broken), "s.yaml");
    expect(read.ok ? [] : read.faults).toMatchObject([{ field, code, file: "s.yaml" }]);
  });
});

describe("settingSheetText", () => {
  it("writes a sheet that reads as the same sheet", () => {
    const read = readSettingSheet(
      SHEET.replace("by: a team", "by: a team\ncautions: ['Off: first, # then on']"),
      "s.yaml",
    );
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    expect(readSettingSheet(settingSheetText(read.record), "t.yaml")).toEqual(read);
  });

  it("leaves out what nobody has typed, for the reader to name it at its field", () => {
    const read = readSettingSheet(settingSheetText({ device: {}, cautions: [], steps: [{}] }), "t.yaml");
    const fields = read.ok ? [] : read.faults.map(({ field }) => field);
    expect(fields.toSorted()).toEqual([
      ...["by", "device.family", "id", "reviewedOn"],
      ...["steps[0].do", "steps[0].source", "steps[0].tag"],
    ]);
  });
});
