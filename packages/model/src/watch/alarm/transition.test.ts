import { describe, expect, it } from "vitest";
import { WATCH_LIMITS } from "../limits.ts";
import { DAY, HOUR, MINUTE } from "../time/span.ts";
import { acknowledgeAll } from "./acknowledge-all.ts";
import { type Alarm, alarmState, type AlarmState, conditionState, newAlarm } from "./alarm.ts";
import type { AlarmEvent } from "./alarm-event.ts";
import { isStale, nextLookAt } from "./pass-time.ts";
import { transition } from "./transition.ts";

const T = Date.UTC(2026, 5, 1, 5, 12);
const ARRAY = { kind: "array", array: "A1" } as const;
const PATH = { kind: "path", path: "P1", person: null } as const;
const latching = newAlarm("tarn A1 insulation-low", "tarn", ARRAY, "insulation-low");
const plain = newAlarm("tarn P1 path-silent", "tarn", PATH, "path-silent");

const SET: AlarmEvent = { type: "set" };
const CLEARED: AlarmEvent = { type: "cleared" };
const ACK: AlarmEvent = { type: "acknowledge", by: "Ann Lee" };
const SIGN: AlarmEvent = { type: "sign-cause", by: "Ben Roe", cause: "water in the connector of string 2" };
const LOOK: AlarmEvent = { type: "look" };
const request = { by: "Ann Lee", reason: "technician on site", untilAt: T + 2 * HOUR };
const SHELVE: AlarmEvent = { type: "shelve", ...request, nextSunriseAt: T + 20 * HOUR };
const SUPPRESS: AlarmEvent = { type: "suppress", ...request, by: "gateway G7 is down" };
const MAINTAIN: AlarmEvent = { type: "begin-maintenance", ...request };

/** Takes events a minute apart, from T on; a refusal fails the test. */
function after(alarm: Alarm, ...events: readonly AlarmEvent[]): Alarm {
  return events.reduce((now, event, minute) => taken(now, event, T + minute * MINUTE), alarm);
}

function taken(alarm: Alarm, event: AlarmEvent, at: number): Alarm {
  const step = transition(alarm, event, at);
  if (!step.ok) throw new Error(`refused: ${step.refusal.code}`);
  return step.alarm;
}

/** The state after an event, or the code of its refusal. */
function outcome(alarm: Alarm, event: AlarmEvent, at = T + 10 * MINUTE): string {
  const step = transition(alarm, event, at);
  return step.ok ? alarmState(step.alarm, at) : step.refusal.code;
}

const unacknowledged = after(latching, SET);
const acknowledged = after(latching, SET, ACK);
const latchedUnacknowledged = after(latching, SET, CLEARED);
const latchedAcknowledged = after(latching, SET, ACK, CLEARED);
const returned = after(plain, SET, CLEARED);

// States: IEC 62682 and ISA-18.2 (memory); what a latch, a shelf and suppression are for: OPC UA part 9, 4.8 (published).
describe("every event in every state of an alarm that latches", () => {
  const NOTHING = "ALARM_ACKNOWLEDGE_NOTHING";
  const ACTIVE = "ALARM_SIGN_WHILE_ACTIVE";
  it.each<[AlarmState, Alarm, string, string, string, string, string]>([
    // state, alarm                                          set               cleared                   acknowledge             sign              shelve
    ["normal", latching, "unacknowledged", "normal", NOTHING, "ALARM_SIGN_NOTHING", "ALARM_SHELF_NOTHING"],
    [
      "unacknowledged",
      unacknowledged,
      "unacknowledged",
      "latched-unacknowledged",
      "acknowledged",
      ACTIVE,
      "shelved",
    ],
    ["acknowledged", acknowledged, "acknowledged", "latched-acknowledged", "acknowledged", ACTIVE, "shelved"],
    [
      "latched-unacknowledged",
      latchedUnacknowledged,
      "unacknowledged",
      "latched-unacknowledged",
      "latched-acknowledged",
      "normal",
      "shelved",
    ],
    [
      "latched-acknowledged",
      latchedAcknowledged,
      "unacknowledged",
      "latched-acknowledged",
      NOTHING,
      "normal",
      "shelved",
    ],
  ])("%s", (state, alarm, set, cleared, ack, sign, shelve) => {
    expect(conditionState(alarm)).toBe(state);
    expect([SET, CLEARED, ACK, SIGN, SHELVE].map((event) => outcome(alarm, event))).toEqual([
      set,
      cleared,
      ack,
      sign,
      shelve,
    ]);
    expect(outcome(alarm, LOOK)).toBe(state);
    expect(outcome(alarm, MAINTAIN)).toBe("out-of-service");
    expect(outcome(alarm, SUPPRESS)).toBe("suppressed-by-design");
    expect(outcome(alarm, { type: "unshelve", by: "Ann" })).toBe("ALARM_SHELF_ABSENT");
    expect(outcome(alarm, { type: "end-maintenance", by: "Ann" })).toBe("ALARM_MAINTENANCE_ABSENT");
    expect(outcome(alarm, { type: "unsuppress", by: "rule" })).toBe("ALARM_SUPPRESSION_ABSENT");
  });
});

describe("every event in the states of an alarm that does not latch", () => {
  it.each<[AlarmState, Alarm, string, string, string, string, string]>([
    [
      "normal",
      plain,
      "unacknowledged",
      "normal",
      "ALARM_ACKNOWLEDGE_NOTHING",
      "ALARM_SIGN_NOTHING",
      "ALARM_SHELF_NOTHING",
    ],
    [
      "unacknowledged",
      after(plain, SET),
      "unacknowledged",
      "returned-unacknowledged",
      "acknowledged",
      "ALARM_SIGN_NOTHING",
      "shelved",
    ],
    [
      "acknowledged",
      after(plain, SET, ACK),
      "acknowledged",
      "normal",
      "acknowledged",
      "ALARM_SIGN_NOTHING",
      "shelved",
    ],
    [
      "returned-unacknowledged",
      returned,
      "unacknowledged",
      "returned-unacknowledged",
      "normal",
      "ALARM_SIGN_NOTHING",
      "shelved",
    ],
    [
      "normal",
      after(plain, SET, CLEARED, ACK),
      "unacknowledged",
      "normal",
      "ALARM_ACKNOWLEDGE_NOTHING",
      "ALARM_SIGN_NOTHING",
      "ALARM_SHELF_NOTHING",
    ],
  ])("%s", (state, alarm, set, cleared, ack, sign, shelve) => {
    expect(conditionState(alarm)).toBe(state);
    expect([SET, CLEARED, ACK, SIGN, SHELVE].map((event) => outcome(alarm, event))).toEqual([
      set,
      cleared,
      ack,
      sign,
      shelve,
    ]);
  });
});

describe("an alarm that comes again", () => {
  it("is a new occurrence that nobody has acknowledged, and is still latched by the first", () => {
    const again = taken(latchedAcknowledged, SET, T + HOUR);
    expect(again).toMatchObject({
      occurrence: 2,
      acknowledged: null,
      latched: true,
      activeAt: T + HOUR,
      clearedAt: null,
    });
  });

  it("is reported twice and counts once, with no effect the second time but the next look", () => {
    const step = transition(unacknowledged, SET, T + MINUTE);
    expect(step.ok && [step.alarm, step.effects.map(({ effect }) => effect)]).toEqual([
      unacknowledged,
      ["look"],
    ]);
  });

  it.each([
    [T + MINUTE - 1, true, "before the acknowledgement is covered by it"],
    [T + MINUTE + 1, false, "after it is not"],
  ])("reported late for %i: %s", (at, covered) => {
    const late = taken(latchedAcknowledged, SET, at);
    expect(late.acknowledged !== null).toBe(covered);
  });

  it("reported late after a cause was signed is not covered by the old acknowledgement", () => {
    const signed = after(latching, SET, ACK, CLEARED, SIGN);
    expect(taken(signed, SET, T + 30_000).acknowledged).toBeNull();
  });

  it.each([
    [T + HOUR - 1, "ALARM_ACKNOWLEDGE_EARLIER"],
    [T + HOUR, "acknowledged"],
  ])("is acknowledged by an answer of %i: %s", (at, expected) => {
    const again = taken(latchedAcknowledged, SET, T + HOUR);
    expect(outcome(again, ACK, at)).toBe(expected);
  });
});

describe("the latch", () => {
  it("keeps a fault that cleared by noon on record until a named person signs a cause", () => {
    const noon = transition(unacknowledged, CLEARED, T + 6 * HOUR);
    expect(noon.ok && noon.reason).toBe(
      "Insulation below its threshold: cleared. It stays on record until a cause is signed.",
    );
    expect(alarmState(latchedUnacknowledged, T + 300 * DAY)).toBe("latched-unacknowledged");
    const signed = taken(latchedUnacknowledged, SIGN, T + HOUR);
    expect(signed).toMatchObject({ latched: false, acknowledged: { by: "Ben Roe", at: T + HOUR } });
  });

  it.each([
    [{ ...SIGN, by: "  " }, "ALARM_NAME_MISSING"],
    [{ ...SIGN, cause: "" }, "ALARM_CAUSE_MISSING"],
    [{ ...ACK, by: "" }, "ALARM_NAME_MISSING"],
  ])("%o is refused: %s", (event, code) => {
    expect(outcome(latchedUnacknowledged, event as AlarmEvent)).toBe(code);
  });
});

describe("a shelf", () => {
  const shelve = (untilAt: number, nextSunriseAt: number | null, extra: object = {}): AlarmEvent => ({
    type: "shelve",
    by: "Ann Lee",
    reason: "roof wet",
    untilAt,
    nextSunriseAt,
    ...extra,
  });
  const dawn = T + 20 * HOUR;

  it.each<[string, AlarmEvent, string]>([
    ["up to the next sunrise", shelve(dawn, dawn), "shelved"],
    ["a millisecond past it", shelve(dawn + 1, dawn), "ALARM_SHELF_TOO_LONG"],
    ["24 h where the sunrise is not known", shelve(T + 24 * HOUR, null), "shelved"],
    ["longer than 24 h", shelve(T + 24 * HOUR + 1, null), "ALARM_SHELF_TOO_LONG"],
    [
      "24 h though the sun stays down for longer",
      shelve(T + 24 * HOUR + 1, T + 30 * HOUR),
      "ALARM_SHELF_TOO_LONG",
    ],
    ["by a sunrise of this very instant, which is past too", shelve(T + 24 * HOUR, T), "shelved"],
    ["by a sunrise that is past, which is none", shelve(T + 24 * HOUR, T - 1), "shelved"],
    ["until now", shelve(T, dawn), "ALARM_END_INVALID"],
    ["until an hour that is no number", shelve(NaN, dawn), "ALARM_END_INVALID"],
    ["without a reason", shelve(dawn, dawn, { reason: " " }), "ALARM_REASON_MISSING"],
    ["without a name", shelve(dawn, dawn, { by: "" }), "ALARM_NAME_MISSING"],
  ])("%s", (_, event, expected) => {
    expect(outcome(unacknowledged, event, T)).toBe(expected);
  });

  it("ends at its instant, and not before, with a line in the history and a question whom to tell", () => {
    const shelved = taken(unacknowledged, shelve(T + HOUR, dawn), T);
    expect(alarmState(shelved, T + HOUR - 1)).toBe("shelved");
    expect(alarmState(shelved, T + HOUR)).toBe("unacknowledged");
    expect(nextLookAt(shelved, WATCH_LIMITS)).toBe(T + HOUR);
    const before = transition(shelved, LOOK, T + HOUR - 1);
    expect(before.ok && before.alarm).toEqual(shelved);
    const ended = transition(shelved, LOOK, T + HOUR);
    expect(ended.ok && ended.effects).toEqual([
      {
        effect: "note",
        at: T + HOUR,
        by: null,
        text: "Insulation below its threshold: taken off the shelf, the time given by Ann Lee is over.",
      },
      { effect: "tell" },
      { effect: "look", at: T + 24 * HOUR + 1 },
    ]);
  });

  it("takes nothing away: what happened meanwhile is there when it ends", () => {
    const shelved = taken(unacknowledged, shelve(T + HOUR, dawn), T);
    const cleared = taken(shelved, CLEARED, T + 10 * MINUTE);
    expect([alarmState(cleared, T + 10 * MINUTE), alarmState(cleared, T + HOUR)]).toEqual([
      "shelved",
      "latched-unacknowledged",
    ]);
    const again = taken(cleared, SET, T + 20 * MINUTE);
    expect(alarmState(again, T + HOUR)).toBe("unacknowledged");
    expect(outcome(again, { type: "unshelve", by: "Ann" }, T + 30 * MINUTE)).toBe("unacknowledged");
  });
});

describe("maintenance and suppression by design", () => {
  it.each<[string, AlarmEvent, string]>([
    ["seven days out of service", { ...MAINTAIN, untilAt: T + 7 * DAY }, "out-of-service"],
    ["a millisecond more", { ...MAINTAIN, untilAt: T + 7 * DAY + 1 }, "ALARM_MAINTENANCE_TOO_LONG"],
    ["a day suppressed", { ...SUPPRESS, untilAt: T + DAY }, "suppressed-by-design"],
    ["a millisecond more suppressed", { ...SUPPRESS, untilAt: T + DAY + 1 }, "ALARM_SUPPRESSION_TOO_LONG"],
  ])("%s", (_, event, expected) => {
    expect(outcome(latching, event, T)).toBe(expected);
  });

  it("lie over each other, out of service first, and end one by one", () => {
    const all = [MAINTAIN, SUPPRESS, SHELVE].reduce((alarm, event) => taken(alarm, event, T), unacknowledged);
    expect(alarmState(all, T)).toBe("out-of-service");
    const served = taken(all, { type: "end-maintenance", by: "Ann" }, T + MINUTE);
    expect(alarmState(served, T + MINUTE)).toBe("suppressed-by-design");
    const free = taken(served, { type: "unsuppress", by: "gateway G7 is back" }, T + MINUTE);
    expect(alarmState(free, T + MINUTE)).toBe("shelved");
    expect(alarmState(all, request.untilAt)).toBe("unacknowledged");
  });
});

// Three changes from active to clear within one minute: IEC 62682 / ISA-18.2 measures (memory). Both ends are counted.
describe("an alarm that chatters", () => {
  /** Active to clear at the given milliseconds after T, set a millisecond before each. */
  const flapped = (...clearsMs: readonly number[]): Alarm =>
    clearsMs.reduce((alarm, ms) => taken(taken(alarm, SET, T + ms - 1), CLEARED, T + ms), latching);

  it.each([
    ["2 clears in a minute", [1, 30_000], false],
    ["the 3rd clear after 59.999 s", [1, 30_000, 60_000], true],
    ["the 3rd clear after 60 s", [1, 30_000, 60_001], true],
    ["the 3rd clear after 60.001 s", [1, 30_000, 60_002], false],
    ["the last 3 of 4 within a minute", [1, 60_100, 90_000, 120_100], true],
  ])("%s: %j chatters is %s", (_, clears, chatters) => {
    const alarm = flapped(...clears);
    expect(alarm.chatter.sinceAt !== null).toBe(chatters);
    expect(alarm.condition).toBe(chatters ? "active" : "clear");
  });

  const chattering = flapped(1, 20_000, 40_000);
  const stillAt = T + 40_000 + 10 * MINUTE;

  it("counts as active and keeps its acknowledgement however often it flaps on", () => {
    const answered = taken(chattering, ACK, T + 41_000);
    const flapping = [SET, CLEARED, SET, CLEARED].reduce(
      (alarm, event, n) => taken(alarm, event, T + 42_000 + n),
      answered,
    );
    expect(flapping).toMatchObject({ condition: "active", occurrence: 3, acknowledged: { by: "Ann Lee" } });
  });

  it.each([
    [stillAt - 1, "unacknowledged", "not yet still for ten minutes"],
    [stillAt, "latched-unacknowledged", "still, and clear as last reported"],
  ])("at %i it is %s: %s", (at, state) => {
    expect(outcome(chattering, LOOK, at)).toBe(state);
  });

  it("is active afterwards if that was its last word, and a late report does not overrule that", () => {
    const active = taken(chattering, SET, T + 50_000);
    const late = taken(active, CLEARED, T + 45_000);
    expect(outcome(late, LOOK, T + 50_000 + 10 * MINUTE)).toBe("unacknowledged");
    expect(nextLookAt(late, WATCH_LIMITS)).toBe(T + 50_000 + 10 * MINUTE);
  });
});

// Active for more than 24 h: IEC 62682 / ISA-18.2 measures (memory).
describe("an alarm that is stale", () => {
  const minutes = (hours: number, more: number): number => T + hours * HOUR + more * MINUTE;
  it.each([
    [minutes(23, 59), false, "23 h 59 min"],
    [minutes(24, 0), false, "24 h"],
    [minutes(24, 1), true, "24 h 1 min"],
  ])("after %i: %s (%s)", (at, stale) => {
    expect(isStale(unacknowledged, at, WATCH_LIMITS)).toBe(stale);
    const step = transition(unacknowledged, LOOK, at);
    expect(step.ok && step.effects.some(({ effect }) => effect === "note")).toBe(stale);
  });

  it("is said once for each occurrence, and never of one that cleared", () => {
    const once = taken(unacknowledged, LOOK, minutes(24, 1));
    const twice = transition(once, LOOK, minutes(30, 0));
    expect(twice.ok && twice.effects).toEqual([]);
    expect(isStale(latchedUnacknowledged, minutes(30, 0), WATCH_LIMITS)).toBe(false);
    const again = taken(taken(once, CLEARED, minutes(31, 0)), SET, minutes(32, 0));
    expect(again.staleAt).toBeNull();
  });
});

describe("one answer to many alarms", () => {
  it("acknowledges those that wait and leaves the one that came after it", () => {
    const later = taken(latching, SET, T + HOUR);
    const { alarms, acknowledged: ids } = acknowledgeAll(
      [unacknowledged, { ...later, id: "later" }, plain],
      "Ann Lee",
      T + MINUTE,
    );
    expect(alarms.map(conditionState)).toEqual(["acknowledged", "unacknowledged", "normal"]);
    expect(ids).toEqual([unacknowledged.id]);
  });
});

it("refuses an instant that is none, and changes nothing", () => {
  expect(outcome(unacknowledged, SET, NaN)).toBe("ALARM_INSTANT_INVALID");
  expect(outcome(unacknowledged, SET, 0.5)).toBe("ALARM_INSTANT_INVALID");
});
