import { describe, expect, it } from "vitest";
import { DAY, HOUR, MINUTE } from "../time/span.ts";
import { ann, ben, cleo, P1, T } from "../notify/people.fixture.ts";
import type { TellPerson } from "../notify/recipients.ts";
import { acknowledgeDrill, type DrillStep, lookAtDrill, startDrill } from "./drill.ts";
import type { Drill } from "./drill-record.ts";
import { drillSigns } from "./drill-signs.ts";
import { drillWords } from "./drill-words.ts";
import { nextDrillOn, pathProof, plannedDrillAt, proofOfDrill } from "./path-proof.ts";

const ZONE = "Europe/Berlin";
const start = (people: readonly TellPerson[], at = T): DrillStep =>
  startDrill({ id: "D1", path: P1, people, trigger: { kind: "scheduled" } }, at);

function drillOf(step: DrillStep): Drill {
  if (!step.ok) throw new Error(step.refusal.code);
  return step.drill;
}

const begun = drillOf(start([ann, ben, cleo]));
const answered = (drill: Drill, ...answers: readonly (readonly [string, number])[]): Drill =>
  answers.reduce((now, [person, at]) => drillOf(acknowledgeDrill(now, person, at)), drill);
const passed = answered(begun, ["ben", T + 14 * MINUTE], ["ann", T + 3 * MINUTE], ["cleo", T + 9 * MINUTE]);
const missed = lookAtDrill(answered(begun, ["ann", T + 3 * MINUTE]), begun.answerByAt + 1).drill;

describe("a drill", () => {
  it("takes in everybody on the path, the ladder included", () => {
    expect(begun.recipients.map(({ person }) => person)).toEqual(["ann", "ben", "cleo"]);
    expect(begun).toMatchObject({ trigger: "scheduled", by: null, answerByAt: T + 24 * HOUR, ended: null });
  });

  it("leaves out who is away, has left or is not known, and tries a broken address", () => {
    const away = { ...ann, away: [{ from: "2026-06-01", to: "2026-06-07" }] };
    const broken = { ...ben, broken: { sinceAt: T, reason: "mailbox full" } };
    const drill = drillOf(start([away, broken]));
    expect(drill.recipients.map(({ person }) => person)).toEqual(["ben"]);
    expect(drill.leftOut).toEqual([
      { person: "ann", reason: "ann is away from 2026-06-01 to 2026-06-07." },
      { person: "cleo", reason: "cleo is not among the people known." },
    ]);
  });

  it("on demand names who started it", () => {
    const trigger = { kind: "on-demand", by: " Ann Lee " } as const;
    expect(drillOf(startDrill({ id: "D2", path: P1, people: [ann], trigger }, T))).toMatchObject({
      trigger: "on-demand",
      by: "Ann Lee",
    });
  });

  it.each<[string, DrillStep, string]>([
    [
      "started by nobody",
      startDrill({ id: "D", path: P1, people: [ann], trigger: { kind: "on-demand", by: "" } }, T),
      "DRILL_NAME_MISSING",
    ],
    ["of people who have all left", start([{ ...ann, until: "2026-05-31" }]), "DRILL_NOBODY_TO_TELL"],
    ["at no instant", start([ann], NaN), "DRILL_INSTANT_INVALID"],
    ["answered by a stranger", acknowledgeDrill(begun, "dan", T + 1), "DRILL_PERSON_UNKNOWN"],
    ["answered before it began", acknowledgeDrill(begun, "ann", T - 1), "DRILL_ANSWER_EARLY"],
    ["answered at no instant", acknowledgeDrill(begun, "ann", NaN), "DRILL_INSTANT_INVALID"],
  ])("%s is refused", (_, step, code) => {
    expect(step.ok ? "taken" : step.refusal.code).toBe(code);
  });

  it("passes when the last has answered, and records the time of each", () => {
    expect(passed.ended).toEqual({ at: T + 14 * MINUTE, outcome: "passed" });
    expect(passed.recipients.map(({ acknowledgedAt }) => acknowledgedAt)).toEqual([
      T + 3 * MINUTE,
      T + 14 * MINUTE,
      T + 9 * MINUTE,
    ]);
  });

  it("counts the first answer of a person", () => {
    expect(answered(begun, ["ann", T + 5], ["ann", T + 9]).recipients[0]!.acknowledgedAt).toBe(T + 5);
    expect(answered(begun, ["ann", T + 9], ["ann", T + 5]).recipients[0]!.acknowledgedAt).toBe(T + 5);
  });

  it.each<[number, Drill["ended"], string]>([
    [begun.answerByAt, null, "its last instant still counts"],
    [begun.answerByAt + 1, { at: begun.answerByAt, outcome: "missed" }, "after it the drill is missed"],
  ])("looked at %i: %o, %s", (now, ended) => {
    expect(lookAtDrill(begun, now).drill.ended).toEqual(ended);
  });

  it.each([
    [begun.answerByAt, "passed"],
    [begun.answerByAt + 1, "missed"],
  ])("with the last answer at %i is %s", (at, outcome) => {
    expect(answered(begun, ["ann", T], ["ben", T], ["cleo", at]).ended?.outcome).toBe(outcome);
  });

  it("keeps an answer that comes after the end, and its outcome", () => {
    const late = answered(missed, ["ben", missed.answerByAt + HOUR]);
    expect(late.recipients[1]!.acknowledgedAt).toBe(missed.answerByAt + HOUR);
    expect(late.ended).toEqual(missed.ended);
    expect(JSON.parse(JSON.stringify(late))).toEqual(late);
  });

  it("says plainly that it is one, in the subject and first of all in the text", () => {
    const { subject, text } = drillWords(begun);
    expect(subject).toMatch(/^Drill, no fault: tarn/u);
    expect(text).toMatch(/^This is a drill\. It reports no earth fault at tarn\.\n/u);
    expect(text).toContain("2026-06-02 05:12 UTC");
    expect(text).toContain("take that as real");
  });
});

describe("the proof of a path by its drills", () => {
  it("is dated by the site's day and timed by the slowest answer", () => {
    expect(proofOfDrill(passed, ZONE)).toEqual({
      path: "P1",
      kind: "drill",
      on: "2026-06-01",
      acknowledgedAfter: 14,
    });
    expect(proofOfDrill(passed, "Pacific/Honolulu")!.on).toBe("2026-05-31");
    expect(proofOfDrill({ ...passed, by: "Ann Lee" }, ZONE)!.by).toBe("Ann Lee");
    expect(proofOfDrill(begun, ZONE)).toBeNull();
    expect(proofOfDrill(missed, ZONE)).toBeNull();
  });

  const later = (drill: Drill, days: number): Drill => ({
    ...drill,
    startedAt: drill.startedAt + days * DAY,
  });
  it.each<[string, Drill[], number, string]>([
    ["without a drill it is unproven", [], T, "unproven"],
    ["a drill that still runs proves nothing", [begun], T, "unproven"],
    ["a passed drill proves it", [passed], T + DAY, "proven"],
    ["on the last day it still does", [passed], Date.UTC(2027, 5, 1, 21, 59), "proven"],
    ["from the next local day on it is overdue", [passed], Date.UTC(2027, 5, 1, 22), "overdue"],
    [
      "a missed drill breaks the proof that an earlier one gave",
      [passed, later(missed, 30)],
      T + 40 * DAY,
      "broken",
    ],
    ["a passed one mends it", [missed, later(passed, 30)], T + 40 * DAY, "proven"],
    ["a drill under way does not", [missed, later(begun, 30)], T + 40 * DAY, "broken"],
  ])("%s", (_, drills, now, state) => {
    expect(pathProof(drills, ZONE, now).state).toBe(state);
    expect(pathProof(drills.toReversed(), ZONE, now).state).toBe(state);
  });

  it("names who did not answer", () => {
    expect(pathProof([missed], ZONE, T)).toMatchObject({
      text: expect.stringContaining("missed: no answer in time from ben, cleo") as string,
      order: "Mend it and hold the drill again.",
    });
  });

  it.each([
    ["2026-06-01", "2027-06-01"],
    ["2028-02-29", "2029-02-28"],
    ["2027-02-28", "2028-02-28"],
  ])("a drill passed on %s is due again on %s", (on, due) => {
    expect(nextDrillOn(on)).toBe(due);
  });

  it.each([
    ["2026-03-29", 150, ZONE, "2026-03-29T01:00:00.000Z", "02:30 is skipped: the first minute after"],
    ["2026-10-25", 150, ZONE, "2026-10-25T00:30:00.000Z", "02:30 comes twice: the earlier"],
    [
      "2026-10-04",
      135,
      "Australia/Lord_Howe",
      "2026-10-03T15:30:00.000Z",
      "02:15 is in the half hour that is skipped",
    ],
    ["2028-02-29", 600, ZONE, "2028-02-29T09:00:00.000Z", "ten o'clock on a leap day"],
  ])("planned for %s minute %i in %s it starts at %s: %s", (date, minute, zone, iso) => {
    expect(new Date(plannedDrillAt(date, minute, zone)).toISOString()).toBe(iso);
  });
});

describe("what a drill says of its recipients", () => {
  it("is nothing while it runs, and then one sign for each: missed by those who were silent", () => {
    expect(drillSigns(begun)).toEqual([]);
    expect(new Set(drillSigns(passed).map(({ change }) => change))).toEqual(new Set(["cleared"]));
    const signs = drillSigns(missed);
    expect(signs.map(({ subject, change }) => [subject, change])).toEqual([
      [{ kind: "path", path: "P1", person: "ann" }, "cleared"],
      [{ kind: "path", path: "P1", person: "ben" }, "set"],
      [{ kind: "path", path: "P1", person: "cleo" }, "set"],
      [{ kind: "path", path: "P1", person: null }, "cleared"],
    ]);
    expect(signs[1]).toMatchObject({ sign: "drill-missed", at: begun.answerByAt });
    expect(signs[1]!.reason.text).toContain("ben did not answer drill D1 of path P1");
  });

  it("does not change by an answer that comes late", () => {
    expect(drillSigns(answered(missed, ["ben", begun.answerByAt + HOUR]))[1]!.change).toBe("set");
  });
});
