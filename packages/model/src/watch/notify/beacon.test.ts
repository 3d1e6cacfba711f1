import { describe, expect, it } from "vitest";
import type { Alarm } from "../alarm/alarm.ts";
import { HOUR } from "../limits.ts";
import { beaconGrounds, raisedAt } from "./beacon.ts";
import type { AlarmMatter } from "./matter.ts";
import { active, moved, T } from "./people.fixture.ts";

const PATHS = [
  { id: "P1", arrays: ["A1"] },
  { id: "P2", arrays: ["A2"] },
];
const matter = (alarm: Alarm, change: Partial<AlarmMatter> = {}): AlarmMatter => ({
  kind: "alarms",
  id: "C1",
  site: "tarn",
  alarms: [alarm],
  closedAt: null,
  ...change,
});
const isLit = (one: AlarmMatter, now = T, paths?: readonly string[]): boolean =>
  raisedAt({ site: "tarn", ...(paths === undefined ? {} : { paths }) }, [one], PATHS, now).length > 0;
const fault = active();
const quiet = { by: "Ann Lee", reason: "repairing", untilAt: T + HOUR };

describe("a beacon", () => {
  it("is lit by a fault that is there, and says where, which and since when", () => {
    expect(raisedAt({ site: "tarn" }, [matter(fault)], PATHS, T + HOUR)).toEqual([
      { site: "tarn", matter: "C1", text: "array A1: insulation below its threshold", sinceAt: T },
    ]);
  });

  it.each<[string, AlarmMatter, boolean]>([
    [
      "stays lit when somebody acknowledges",
      matter(moved(fault, { type: "acknowledge", by: "Ann Lee" }, T)),
      true,
    ],
    ["goes out when the fault goes", matter(moved(fault, { type: "cleared" }, T)), false],
    ["goes out when the case is closed", matter(fault, { closedAt: T }), false],
    [
      "is out during work on the array",
      matter(moved(fault, { type: "begin-maintenance", ...quiet }, T)),
      false,
    ],
    ["is not lit by drifting insulation", matter(active("insulation-drifting")), false],
    ["is lit by a trip", matter(active("residual-trip")), true],
  ])("%s", (_, one, lit) => {
    expect(isLit(one)).toBe(lit);
  });

  it("is lit again when the work has lasted longer than was said", () => {
    const working = matter(moved(fault, { type: "begin-maintenance", ...quiet }, T));
    expect([isLit(working, T + HOUR - 1), isLit(working, T + HOUR)]).toEqual([false, true]);
  });

  it.each<[readonly string[], boolean]>([
    [["P1"], true],
    [["P2"], false],
    [["P2", "P1"], true],
    [["P9"], false],
  ])("of paths %j: %s", (paths, lit) => {
    expect(isLit(matter(fault), T, paths)).toBe(lit);
  });

  it("shows nothing of a site that it does not show", () => {
    expect(raisedAt(null, [matter(fault)], PATHS, T)).toEqual([]);
  });

  it("says why it is lit or out", () => {
    const raised = raisedAt({ site: "tarn" }, [matter(fault)], PATHS, T);
    expect(beaconGrounds(raised).text).toBe("Lit: tarn, array A1: insulation below its threshold.");
    expect(beaconGrounds([]).text).toBe("Out: no earth fault that it shows is there.");
  });
});
