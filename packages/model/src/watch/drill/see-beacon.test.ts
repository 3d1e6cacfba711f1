import { describe, expect, it } from "vitest";
import { HOUR, MINUTE } from "../time/span.ts";
import { ann, LAMP, P1, T } from "../notify/people.fixture.ts";
import { acknowledgeDrill, type DrillStep, lookAtDrill, startDrill } from "./drill.ts";
import type { Drill } from "./drill-record.ts";
import { beaconsLitBy } from "./drill-beacon.ts";
import { drillSigns } from "./drill-signs.ts";
import { drillWords } from "./drill-words.ts";
import { pathProof, proofOfDrill } from "./path-proof.ts";
import { seeBeacon } from "./see-beacon.ts";

const ZONE = "Europe/Berlin";
const SCREEN = { id: "screen", saysDrill: true };

function drillOf(step: DrillStep): Drill {
  if (!step.ok) throw new Error(step.refusal.code);
  return step.drill;
}

const begun = (beacons = [LAMP]): Drill =>
  drillOf(startDrill({ id: "D1", path: P1, people: [ann], beacons, trigger: { kind: "scheduled" } }, T));
const seen = (drill: Drill, seenAt: number, now = seenAt, beacon = "lamp"): DrillStep =>
  seeBeacon(drill, { beacon, by: " Ben Gale ", seenAt }, now);
const answered = (drill: Drill, at: number): Drill => drillOf(acknowledgeDrill(drill, "ann", at));
const litAt = (drill: Drill, at: number): readonly string[] =>
  beaconsLitBy(drill, at).map(({ beacon }) => beacon);

describe("a drill of a path that ends in a beacon", () => {
  it("lights it for an hour at the most", () => {
    expect(begun().beacons).toEqual([{ beacon: "lamp", saysDrill: false, litUntilAt: T + HOUR, seen: null }]);
    expect([T - 1, T, T + HOUR - 1, T + HOUR].map((at) => litAt(begun(), at))).toEqual([
      [],
      ["lamp"],
      ["lamp"],
      [],
    ]);
  });

  it("lets it go out when everybody has acknowledged, and still waits for somebody who saw it", () => {
    const drill = answered(begun(), T + MINUTE);
    expect([litAt(drill, T + MINUTE - 1), litAt(drill, T + MINUTE)]).toEqual([["lamp"], []]);
    expect(lookAtDrill(drill, T + 2 * MINUTE)).toMatchObject({
      drill: { ended: null },
      reason: "Waits for somebody who saw beacon lamp burn.",
    });
  });

  it("lets each beacon go out when it was seen", () => {
    const drill = drillOf(seen(begun([LAMP, SCREEN]), T + MINUTE));
    expect(litAt(drill, T + MINUTE)).toEqual(["screen"]);
  });

  it("passes when everybody has acknowledged and every beacon was seen, in either order", () => {
    const one = answered(drillOf(seen(begun(), T + MINUTE)), T + 5 * MINUTE);
    const other = drillOf(seen(answered(begun(), T + 5 * MINUTE), T + MINUTE, T + 9 * MINUTE));
    expect(one.ended).toEqual({ at: T + 5 * MINUTE, outcome: "passed" });
    expect(other.ended).toEqual({ at: T + 9 * MINUTE, outcome: "passed" });
    expect(other.beacons![0]!.seen).toEqual({ by: "Ben Gale", at: T + MINUTE, saidAt: T + 9 * MINUTE });
  });

  it("is timed by when the beacon was seen and not by when that was said", () => {
    const drill = drillOf(seen(answered(begun(), T + 5 * MINUTE), T + 2 * MINUTE, T + 3 * HOUR));
    expect(proofOfDrill(drill, ZONE)!.acknowledgedAfter).toBe(5);
    const slow = answered(drillOf(seen(begun(), T + 50 * MINUTE)), T + 51 * MINUTE);
    expect(proofOfDrill(slow, ZONE)!.acknowledgedAfter).toBe(51);
  });

  it("is missed when nobody says in time to have seen it, and breaks the proof of its path", () => {
    const drill = answered(begun(), T + MINUTE);
    const missed = lookAtDrill(drill, drill.answerByAt + 1).drill;
    expect(missed.ended).toEqual({ at: drill.answerByAt, outcome: "missed" });
    expect(proofOfDrill(missed, ZONE)).toBeNull();
    const proof = pathProof([missed], ZONE, T + 25 * HOUR);
    expect(proof.state).toBe("broken");
    expect(proof.text).toContain("nobody said in time that they saw beacon lamp burn");
    const signs = drillSigns(missed).map(({ subject, change }) => [subject, change]);
    expect(signs).toEqual([
      [{ kind: "path", path: "P1", person: "ann" }, "cleared"],
      [{ kind: "path", path: "P1", person: null }, "set"],
    ]);
    const late = drillOf(seen(missed, T + 30_000, missed.answerByAt + HOUR));
    expect(late.beacons![0]!.seen).not.toBeNull();
    expect(late.ended).toEqual(missed.ended);
    expect(drillSigns(late)[1]!.change).toBe("set");
  });

  it("takes a time that is told to the minute", () => {
    const drill = drillOf(
      startDrill(
        { id: "D1", path: P1, people: [ann], beacons: [LAMP], trigger: { kind: "scheduled" } },
        T + 25_000,
      ),
    );
    expect(drillOf(seen(drill, T, T + HOUR / 2)).beacons![0]!.seen!.at).toBe(T + 25_000);
  });

  it("counts the first who saw it", () => {
    const drill = drillOf(seen(begun([LAMP, SCREEN]), T + MINUTE));
    expect(drillOf(seeBeacon(drill, { beacon: "lamp", by: "Ann Lee", seenAt: T }, T + HOUR))).toBe(drill);
  });

  it.each<[string, () => DrillStep, string]>([
    ["of a beacon that it does not light", () => seen(begun(), T, T, "screen"), "DRILL_BEACON_UNKNOWN"],
    ["by nobody", () => seeBeacon(begun(), { beacon: "lamp", by: " ", seenAt: T }, T), "DRILL_NAME_MISSING"],
    ["at no instant", () => seen(begun(), NaN), "DRILL_INSTANT_INVALID"],
    ["before it began", () => seen(begun(), T - MINUTE, T), "DRILL_BEACON_NOT_LIT"],
    ["in the future", () => seen(begun(), T + MINUTE, T), "DRILL_BEACON_NOT_LIT"],
    ["after the stated time", () => seen(begun(), T + HOUR + 1), "DRILL_BEACON_NOT_LIT"],
    [
      "after everybody had acknowledged",
      () => seen(answered(begun(), T + MINUTE), T + 2 * MINUTE),
      "DRILL_BEACON_NOT_LIT",
    ],
  ])("refuses a word %s", (_, step, code) => {
    const taken = step();
    expect(taken.ok ? "taken" : taken.refusal.code).toBe(code);
  });

  it("tells its people that the beacon burns for a drill, and which cannot say so themselves", () => {
    const { text } = drillWords(begun([LAMP, SCREEN]));
    expect(text).toContain(
      "For this drill beacons lamp and screen burn until 2026-06-01 06:12 UTC at the longest",
    );
    expect(text).toContain("Of beacon lamp a drill cannot be told from a fault: the desk says which it is.");
    expect(drillWords(begun([SCREEN])).text).not.toContain("cannot be told");
  });
});
