import { describe, expect, it } from "vitest";
import { type Alarm, newAlarm } from "../alarm/alarm.ts";
import type { AlarmEvent } from "../alarm/alarm-event.ts";
import { transition } from "../alarm/transition.ts";
import { DAY, HOUR, MINUTE } from "../time/span.ts";
import type { SignKind } from "../sign.ts";
import type { Case } from "./case.ts";
import { type CaseEvent, caseStep } from "./case-event.ts";
import { followAlarm } from "./follow-alarm.ts";
import { needsToClose } from "./needs.ts";

const T = Date.UTC(2026, 5, 1, 5, 12);
const NONE = { open: null, lastClosed: null };
const required = { value: 1_000_000, source: "IEC 62446-1", tag: "memory" } as const;

function alarmOf(sign: SignKind): Alarm {
  const subject =
    sign === "path-silent"
      ? ({ kind: "path", path: "P1", person: null } as const)
      : ({ kind: "array", array: "A1" } as const);
  return newAlarm(`A1 ${sign}`, "tarn", subject, sign);
}

function moved(alarm: Alarm, event: AlarmEvent, at: number): Alarm {
  const step = transition(alarm, event, at);
  if (!step.ok) throw new Error(step.refusal.code);
  return step.alarm;
}

const set = (sign: SignKind, at = T): Alarm => moved(alarmOf(sign), { type: "set" }, at);
const cleared = (alarm: Alarm, at: number): Alarm => moved(alarm, { type: "cleared" }, at);

function opened(alarm: Alarm, at = T, lastClosed: Case | null = null): Case {
  const { open } = followAlarm({ open: null, lastClosed }, alarm, { at, newId: "C1" });
  if (open === null) throw new Error("no case was opened");
  return open;
}

function follow(one: Case, alarm: Alarm, at: number): Case {
  return followAlarm({ open: one, lastClosed: null }, alarm, { at, newId: "unused" }).open!;
}

function done(one: Case, event: CaseEvent, at: number): Case {
  const step = caseStep(one, event, at);
  if (!step.ok) throw new Error(`${step.refusal.code}: ${step.refusal.text}`);
  return step.case;
}

const SIGN: CaseEvent = {
  type: "sign-cause",
  by: "Ben Roe",
  cause: "water in a connector",
  repairedAt: T + 2 * HOUR,
};
const MEASURE: CaseEvent = { type: "measure-insulation", by: "Ben Roe", ohms: 4e6, required };
const TELL_OWNER: CaseEvent = { type: "tell-owner", by: "Ann Lee", document: "closing letter 7" };
const CLOSE: CaseEvent = { type: "close", by: "Ann Lee" };

/** A fault that began at T, was repaired at T + 2 h, cleared an hour later. */
const low = set("insulation-low");
const gone = cleared(low, T + 3 * HOUR);
const quiet = follow(opened(low), gone, T + 3 * HOUR);
const ready = [SIGN, MEASURE, TELL_OWNER].reduce(
  (one, event, n) => done(one, event, T + 4 * HOUR + n * MINUTE),
  quiet,
);
const closed = done(ready, CLOSE, T + 5 * HOUR);

describe("a case opens", () => {
  it.each<[SignKind, boolean]>([
    ["earth-fault-bit", true],
    ["insulation-low", true],
    ["residual-trip", true],
    ["dawn-recurring", true],
    ["insulation-drifting", false],
    ["detector-stuck", false],
    ["detector-silent", false],
    ["path-silent", false],
  ])("by %s: %s", (sign, opens) => {
    const followed = followAlarm(NONE, set(sign), { at: T, newId: "C1" });
    expect(followed.open !== null).toBe(opens);
    expect(followed.outcome).toBe(opens ? "opened" : "none");
  });

  it("once, and takes every further sign of the array", () => {
    const one = follow(opened(low), set("residual-trip", T + MINUTE), T + MINUTE);
    const two = follow(one, set("insulation-drifting", T + HOUR), T + HOUR);
    expect(two).toMatchObject({
      id: "C1",
      alarms: ["A1 insulation-low", "A1 residual-trip", "A1 insulation-drifting"],
      presentAlarms: ["A1 insulation-low", "A1 residual-trip"],
      lastBeganAt: T + MINUTE,
    });
  });

  it("even by a fault that was over before anybody looked", () => {
    expect(opened(gone, T + 4 * HOUR)).toMatchObject({ presentAlarms: [], alarms: ["A1 insulation-low"] });
  });

  it("not by the silence of a path, which is no fault of the array", () => {
    const followed = followAlarm({ open: quiet, lastClosed: null }, set("path-silent"), {
      at: T,
      newId: "C2",
    });
    expect(followed.open).toBe(quiet);
  });
});

describe("a case closes", () => {
  it("with the fault gone, a cause signed, insulation measured and the owner told", () => {
    expect(needsToClose(ready).map(({ need, met }) => [need, met])).toEqual([
      ["fault-gone", true],
      ["cause-signed", true],
      ["insulation-measured", true],
      ["owner-told", true],
    ]);
    expect(closed.closed).toEqual({ by: "Ann Lee", at: T + 5 * HOUR });
  });

  const without = (missing: CaseEvent) =>
    [SIGN, MEASURE, TELL_OWNER]
      .filter((event) => event !== missing)
      .reduce((one, event) => done(one, event, T + 4 * HOUR), quiet);

  it.each<[string, Case, string]>([
    ["a signed cause", without(SIGN), "cause-signed"],
    ["a measurement", without(MEASURE), "insulation-measured"],
    ["a word to the owner", without(TELL_OWNER), "owner-told"],
    [
      "the fault gone",
      follow(ready, moved(gone, { type: "set" }, T + 4.5 * HOUR), T + 4.5 * HOUR),
      "fault-gone",
    ],
    [
      "a measurement after the repair",
      done(without(MEASURE), MEASURE, T + 2 * HOUR - 1),
      "insulation-measured",
    ],
    ["enough insulation", done(ready, { ...MEASURE, ohms: 999_999 }, T + 4.5 * HOUR), "insulation-measured"],
    [
      "an owner told after the signature",
      done(without(TELL_OWNER), TELL_OWNER, T + 4 * HOUR - 1),
      "owner-told",
    ],
  ])("not without %s", (_, one, need) => {
    const step = caseStep(one, CLOSE, T + 6 * HOUR);
    expect(step.ok ? "closed" : step.refusal.code).toBe("CASE_NEEDS_UNMET");
    expect(
      needsToClose(one)
        .filter(({ met }) => !met)
        .map((unmet) => unmet.need),
    ).toContain(need);
  });

  it.each([
    ["measured at the minute of the repair", T + 2 * HOUR, true],
    ["measured a millisecond before", T + 2 * HOUR - 1, false],
  ])("%s: %i is %s", (_, at, met) => {
    const one = done(done(quiet, MEASURE, at), SIGN, T + 4 * HOUR);
    expect(needsToClose(one).find(({ need }) => need === "insulation-measured")!.met).toBe(met);
  });

  it("not with the figures of before, when the fault came back and went again", () => {
    const back = moved(gone, { type: "set" }, T + 6 * HOUR);
    const again = follow(follow(ready, back, T + 6 * HOUR), cleared(back, T + 7 * HOUR), T + 7 * HOUR);
    const unmet = needsToClose(again).filter(({ met }) => !met);
    expect(unmet.map(({ need }) => need)).toEqual(["cause-signed", "insulation-measured"]);
  });

  it("not while an alarm that came in late, from before the signature, is unsigned", () => {
    const late = moved(
      moved(gone, { type: "sign-cause", by: "Ben", cause: "x" }, T + 4 * HOUR),
      { type: "set" },
      T + 1,
    );
    const one = follow(follow(ready, late, T + 5 * HOUR), cleared(late, T + 3 * HOUR), T + 5 * HOUR);
    expect(
      needsToClose(one)
        .filter(({ met }) => !met)
        .map(({ need }) => need),
    ).toEqual(["cause-signed"]);
    const signed = done(done(one, SIGN, T + 6 * HOUR), TELL_OWNER, T + 6 * HOUR);
    expect(caseStep(signed, CLOSE, T + 6 * HOUR).ok).toBe(true);
  });

  it("with insulation of exactly what is required", () => {
    const one = done(ready, { ...MEASURE, ohms: 1_000_000 }, T + 4.5 * HOUR);
    expect(needsToClose(one).every(({ met }) => met)).toBe(true);
  });

  it("shows the figure, its source and its tag", () => {
    expect(needsToClose(ready)[2]!.text).toBe(
      "4 MΩ measured by Ben Roe, 1 MΩ required (IEC 62446-1, memory).",
    );
  });
});

describe("a step on a case is refused", () => {
  it.each<[string, Case, CaseEvent, number, string]>([
    ["to sign while the fault is there", opened(low), SIGN, T + 4 * HOUR, "CASE_SIGN_WHILE_ACTIVE"],
    ["to sign a blank cause", quiet, { ...SIGN, cause: " " }, T + 4 * HOUR, "CASE_TEXT_MISSING"],
    [
      "to sign a repair that is still to come",
      quiet,
      { ...SIGN, repairedAt: T + 4 * HOUR + 1 },
      T + 4 * HOUR,
      "CASE_REPAIR_INVALID",
    ],
    [
      "to sign a repair from before the fault",
      quiet,
      { ...SIGN, repairedAt: T - 1 },
      T + 4 * HOUR,
      "CASE_REPAIR_INVALID",
    ],
    ["to act without a name", quiet, { ...TELL_OWNER, by: "" }, T, "CASE_NAME_MISSING"],
    ["to measure a negative insulation", quiet, { ...MEASURE, ohms: -1 }, T, "CASE_OHMS_INVALID"],
    [
      "to measure against no requirement",
      quiet,
      { ...MEASURE, required: { ...required, value: NaN } },
      T,
      "CASE_OHMS_INVALID",
    ],
    ["to remark nothing", quiet, { type: "remark", by: "Ann", text: "" }, T, "CASE_TEXT_MISSING"],
    ["to act at no instant", quiet, CLOSE, NaN, "CASE_INSTANT_INVALID"],
    ["to act on a closed case", closed, SIGN, T + 6 * HOUR, "CASE_STEP_AFTER_CLOSE"],
    ["to close it again", closed, CLOSE, T + 6 * HOUR, "CASE_STEP_AFTER_CLOSE"],
  ])("%s", (_, one, event, at, code) => {
    const step = caseStep(one, event, at);
    expect(step.ok ? "taken" : step.refusal.code).toBe(code);
  });

  it("but a repair at the minute at which the fault began, and none at all, are taken", () => {
    expect(caseStep(quiet, { ...SIGN, repairedAt: T }, T + 4 * HOUR).ok).toBe(true);
    expect(caseStep(quiet, { ...SIGN, repairedAt: null }, T + 4 * HOUR).ok).toBe(true);
  });
});

describe("a signed cause", () => {
  it("asks to sign the alarms and to begin the count of mornings anew", () => {
    const step = caseStep(quiet, SIGN, T + 4 * HOUR);
    expect(step.ok && step.effects).toEqual([
      { effect: "sign-alarms", alarms: ["A1 insulation-low"], by: "Ben Roe", cause: "water in a connector" },
      { effect: "forget-mornings", site: "tarn", array: "A1" },
    ]);
  });
});

describe("a fault that comes back after a signed close", () => {
  const back = (at: number) =>
    followAlarm({ open: null, lastClosed: closed }, moved(gone, { type: "set" }, at), { at, newId: "C2" });

  it.each<[number, string | null, string]>([
    [T + 5 * HOUR + 30 * DAY, "C1", "30 days after the close is linked to it"],
    [T + 5 * HOUR + 30 * DAY + 1, null, "later it is a new fault"],
  ])("at %i opens a case after %s: %s", (at, recurrenceOf) => {
    const followed = back(at);
    expect(followed.open).toMatchObject({ id: "C2", recurrenceOf, cause: null, closed: null });
    expect(followed.earlier?.id ?? null).toBe(recurrenceOf);
  });

  it("leaves the closed case closed, with one line more that names the new one", () => {
    const { earlier } = back(T + 2 * DAY);
    expect(earlier!.closed).toEqual(closed.closed);
    expect(earlier!.timeline.slice(0, -1)).toEqual(closed.timeline);
    expect(earlier!.timeline.at(-1)!.text).toBe("The fault came back: case C2, opened 2026-06-03 05:12 UTC.");
  });
});

it("only ever adds to the timeline, and names who did what", () => {
  const steps = [opened(low), quiet, done(quiet, SIGN, T + 4 * HOUR), ready, closed];
  steps.slice(1).forEach((after, n) => {
    const before = steps[n]!.timeline;
    expect(after.timeline.slice(0, before.length)).toEqual(before);
  });
  expect(closed.timeline.map(({ by, text }) => [by, text])).toEqual([
    [null, "Opened by: insulation below its threshold."],
    [null, "Sign: insulation below its threshold."],
    ["Ben Roe", "Cause signed by Ben Roe, repaired 2026-06-01 07:12 UTC: water in a connector"],
    ["Ben Roe", "Insulation measured by Ben Roe: 4 MΩ, 1 MΩ required."],
    ["Ann Lee", "Owner told by Ann Lee, closing letter 7."],
    ["Ann Lee", "Closed by Ann Lee."],
  ]);
  expect(JSON.parse(JSON.stringify(closed))).toEqual(closed);
});
