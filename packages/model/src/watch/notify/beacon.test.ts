import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Alarm } from "../alarm/alarm.ts";
import { HOUR } from "../time/span.ts";
import { acknowledgeDrill, type DrillStep, lookAtDrill, startDrill } from "../drill/drill.ts";
import type { Drill } from "../drill/drill-record.ts";
import { seeBeacon } from "../drill/see-beacon.ts";
import { beaconGrounds, type BeaconShows, beaconState, drillLightsAt, endsIn, raisedAt } from "./beacon.ts";
import type { AlarmMatter } from "./matter.ts";
import { active, ann, LAMP, moved, P1, T } from "./people.fixture.ts";

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
    expect(beaconGrounds({ raised, drills: [] }).text).toBe(
      "Lit: tarn, array A1: insulation below its threshold.",
    );
    expect(beaconGrounds({ raised: [], drills: [] }).text).toBe(
      "Out: no earth fault that it shows is there.",
    );
  });
});

describe("the path of a drill ends in a beacon", () => {
  it.each<[string, Parameters<typeof endsIn>[0], boolean]>([
    ["that shows the path", { site: "tarn", paths: ["P2", "P1"] }, true],
    ["that shows all of the site", { site: "tarn" }, true],
    ["that shows other paths", { site: "tarn", paths: ["P2"] }, false],
    ["that does not show the site", null, false],
  ])("%s: %j %s", (_, part, ends) => {
    expect(endsIn(part, "P1")).toBe(ends);
  });
});

describe("a drill at a beacon", () => {
  const step = startDrill(
    { id: "D1", path: P1, people: [ann], beacons: [LAMP], trigger: { kind: "scheduled" } },
    T,
  );
  const drill = step.ok ? step.drill : null;
  const shows = (alarm: Alarm | null, now: number): BeaconShows => ({
    raised: raisedAt({ site: "tarn" }, alarm === null ? [] : [matter(alarm)], PATHS, now),
    drills: drillLightsAt("lamp", [drill!], now),
  });

  it("lights it for the stated time, and is told from a fault", () => {
    expect(beaconState(shows(null, T))).toBe("drill");
    expect(beaconState(shows(null, T + HOUR - 1))).toBe("drill");
    expect(beaconState(shows(null, T + HOUR))).toBe("clear");
    expect(beaconGrounds(shows(null, T)).text).toBe("Lit for a drill, no fault: tarn, path P1, drill D1.");
    expect(drillLightsAt("other", [drill!], T)).toEqual([]);
  });

  it("gives way to a fault at once, which is said to be none", () => {
    expect(beaconState(shows(fault, T + 1))).toBe("raised");
    expect(beaconGrounds(shows(fault, T + 1)).text).toBe(
      "Lit: tarn, array A1: insulation below its threshold. This is no drill, though one is held: tarn, path P1, drill D1.",
    );
  });

  it("never hides a fault, nor lights a beacon for longer than it says, whatever happens in which order", () => {
    fc.assert(
      fc.property(fc.array(happening, { maxLength: 20 }), (happenings) => {
        let [now, there, held, at]: [number, Alarm | null, Drill, number | null] = [T, null, drill!, null];
        for (const { pause, what } of happenings) {
          now += pause;
          if (what === "fault") there = active();
          if (what === "clear") there = null;
          const said = what === "ack" ? acknowledgeDrill(held, "ann", now) : see(held, what, now);
          if (said?.ok === true) held = said.drill;
          if (said?.ok === true && at === null) at = now;
          held = lookAtDrill(held, now).drill;
          const own = {
            raised: raisedAt({ site: "tarn" }, there === null ? [] : [matter(there)], PATHS, now),
            drills: drillLightsAt("lamp", [held], now),
          };
          const burns = there === null && at === null && now < T + HOUR;
          expect(beaconState(own)).toBe(there !== null ? "raised" : burns ? "drill" : "clear");
        }
      }),
    );
  });
});

const happening = fc.record({
  pause: fc.constantFrom(0, 1, HOUR / 4, HOUR, 25 * HOUR),
  what: fc.constantFrom("fault", "clear", "ack", "see", "wait"),
});

function see(drill: Drill, what: string, now: number): DrillStep | null {
  return what === "see" ? seeBeacon(drill, { beacon: "lamp", by: "Ben Gale", seenAt: now }, now) : null;
}
