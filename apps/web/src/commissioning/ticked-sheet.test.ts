import type { SettingSheet } from "@earthbell/model";
import { describe, expect, it } from "vitest";
import {
  retaken,
  type SheetAtDesk,
  type SheetEntry,
  sheetEntryOf,
  tickedNow,
  type TickedSheet,
  typedSheet,
  untickedSheet,
  withWords,
} from "./ticked-sheet.ts";

const step = (text: string, more: object = {}): SettingSheet["steps"][number] => ({
  ...{ do: text, source: "a team", tag: "user" },
  ...more,
});
function atDesk(revision: number, ...steps: readonly SettingSheet["steps"][number][]): SheetAtDesk {
  const device = { family: "Gannet (invented)" };
  const holds = { id: "gannet", device, by: "a team", reviewedOn: "2026-11-02", cautions: ["Shut."], steps };
  return { sheet: "gannet", family: device.family, revision, digest: String(revision).repeat(64), holds };
}
const first = atDesk(1, step("Read it."), step("Set it.", { value: "30 kΩ" }), step("Read it."));
const noon = new Date(2026, 1, 3, 12, 5);
/** Steps of these places are ticked at noon. */
function ticked(entry: SheetEntry, ...places: readonly number[]): SheetEntry {
  const steps = entry.steps.map((one, at) => (places.includes(at) ? tickedNow(one, "", noon) : one));
  return { ...entry, steps };
}
const ticks = ({ steps }: SheetEntry) => steps.map((one) => one.ticked);

describe("a setting sheet in the form", () => {
  it("is written as ticked by whom the work was done, at the time of the tick, and is read as the same again", () => {
    const entry = ticked(untickedSheet(first, "k"), 0);
    const typed = typedSheet(entry, "M. Orrin") as TickedSheet;
    expect(typed).toMatchObject({
      ...{ sheet: "gannet", revision: 1, digest: first.digest },
      steps: [
        { step: 1, done: true, by: "M. Orrin", on: "2026-02-03", at: "12:05" },
        { step: 2 },
        { step: 3 },
      ],
    });
    expect(typed.steps[1]).not.toHaveProperty("done");
    expect(typedSheet(sheetEntryOf(typed, "k"), "")).toEqual(typed);
  });

  it("says why a step was not done, and nothing of a step that is still open", () => {
    const entry = untickedSheet(first, "k");
    const [one, ...others] = entry.steps;
    const typed = typedSheet({ ...entry, steps: [{ ...one!, because: " no menu " }, ...others] }, "M. Orrin");
    expect((typed as TickedSheet).steps.slice(0, 2)).toEqual([
      { step: 1, do: "Read it.", done: false, because: "no menu" },
      { step: 2, do: "Set it." },
    ]);
  });

  it("gets its cautions back from the desk only where that holds the very same words", () => {
    const entry = sheetEntryOf(typedSheet(untickedSheet(first, "k"), "") as TickedSheet, "k");
    expect(entry.cautions).toBe(null);
    expect(withWords(entry, first)).toMatchObject({
      cautions: ["Shut."],
      steps: first.holds.steps.map((words) => ({ words })),
    });
    expect(withWords(entry, atDesk(2, ...first.holds.steps))).toBe(null);
    expect(withWords(entry, undefined)).toBe(null);
  });

  it("loses with a new revision the ticks of steps that changed in any word, and of no others", () => {
    const entry = ticked(untickedSheet(first, "k"), 1, 2);
    const now = retaken(
      entry,
      atDesk(2, step("Set it.", { value: "40 kΩ" }), step("Read it."), step("Read it.")),
    );
    // Of two alike the first was not ticked.
    expect([now.revision, ticks(now)]).toEqual([2, [false, false, true]]);
    const moved = retaken(entry, atDesk(3, step("Set it.", { value: "30 kΩ" }), step("Read it.")));
    expect(ticks(moved)).toEqual([true, false]);
  });
});
