import { describe, expect, it } from "vitest";
import { changeOf, formOf } from "./change-form.ts";
import type { Entry } from "./told-records.ts";

const ENTRY: Entry = {
  ...{ site: "fell", siteName: null, person: "desk", role: null, zone: "UTC", paths: [], mayChange: true },
  ...{ reads: "Mon-Fri 07:00-17:00", checksPerDay: 20, away: [], until: null },
};

describe("a form of somebody's habits", () => {
  it("asks for nothing as long as nothing is changed, also where sites differ", () => {
    const differing = [ENTRY, { ...ENTRY, reads: null, checksPerDay: 4, until: "2027-01-31" }];
    for (const entries of [[ENTRY], differing]) expect(changeOf(formOf(entries), formOf(entries))).toBeNull();
    expect(formOf(differing)).toMatchObject({ hours: { kind: "stays" }, looks: "", until: "" });
  });

  it("asks for what was changed and nothing else", () => {
    const begun = formOf([ENTRY]);
    expect(changeOf(begun, { ...begun, looks: " 7,5 " })).toEqual({ checksPerDay: 7.5 });
    expect(changeOf(begun, { ...begun, looks: "" })).toEqual({ checksPerDay: null });
    expect(changeOf(begun, { ...begun, until: "2027-01-31" })).toEqual({ until: "2027-01-31" });
    expect(changeOf(begun, { ...begun, hours: { ...begun.hours, kind: "unknown" } })).toEqual({
      reads: null,
    });
    const rows = begun.hours.rows.map((row) => ({ ...row, to: "Sat" }));
    expect(changeOf(begun, { ...begun, hours: { kind: "some", rows } })).toEqual({
      reads: "Mon-Sat 07:00-17:00",
    });
    const leave = { from: "2026-12-20", to: "2027-01-04" };
    expect(changeOf(begun, { ...begun, absences: { removed: [], added: [leave] } })).toEqual({
      awayAdded: [leave],
    });
  });
});
