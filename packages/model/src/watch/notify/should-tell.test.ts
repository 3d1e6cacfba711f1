import { describe, expect, it } from "vitest";
import type { Alarm } from "../alarm/alarm.ts";
import type { AlarmEvent } from "../alarm/alarm-event.ts";
import { DAY, HOUR, MINUTE } from "../time/span.ts";
import type { Delivery } from "./delivery.ts";
import { type AlarmMatter, matterOfAlarm } from "./matter.ts";
import { active, alarmOf, ann, ben, cleo, moved, outcome, P1, recorded, T } from "./people.fixture.ts";
import type { TellPath, TellPerson } from "./recipients.ts";
import { shouldTell } from "./should-tell.ts";

const ACK: AlarmEvent = { type: "acknowledge", by: "Ann Lee" };
const matterOf = (...alarms: readonly Alarm[]): AlarmMatter => ({
  kind: "alarms",
  id: "C1",
  site: "tarn",
  alarms,
  closedAt: null,
});
const fault = active();
const ask = (
  alarms: readonly Alarm[],
  last: Delivery | null,
  now: number,
  person: TellPerson = ann,
  path: TellPath = P1,
) => shouldTell(matterOf(...alarms), person, path, last, now);

/** Ann was told of the fault at T. */
const told = recorded(ask([fault], null, T), T);

describe("a fault that nobody has answered", () => {
  it("is told at once, says why, and is looked at again in an hour", () => {
    const decision = ask([fault], null, T);
    expect(decision).toMatchObject({ tell: true, kind: "first", nextLookAt: T + HOUR });
    expect(decision.reason.text).toBe("First: insulation below its threshold.");
  });

  it.each([
    [T + HOUR - 1, "interval"],
    [T + HOUR, "repeat"],
  ])("is repeated hourly: at %i %s", (now, expected) => {
    expect(outcome(ask([fault], told, now))).toBe(expected);
  });

  it("gives the reason of a repeat with its figure and the tag of its limit", () => {
    const { reason } = ask([fault], told, T + HOUR);
    expect(reason.text).toBe("Repeat: 60 min since the last message, not acknowledged.");
    expect(reason.figures).toEqual({ intervalMin: 60 });
    expect(reason.limits[0]).toMatchObject({ name: "repeatMin", value: 60, tag: "common practice" });
  });

  it.each<[string, number | undefined, number, string]>([
    ["a path that does not say so repeats hourly, not before", undefined, HOUR - 1, "interval"],
    ["and then does", undefined, HOUR, "repeat"],
    ["a path that says 15 min waits", 15, 15 * MINUTE - 1, "interval"],
    ["and repeats then", 15, 15 * MINUTE, "repeat"],
    ["an interval of nothing is a minute", 0, MINUTE - 1, "interval"],
    ["and then repeats", 0, MINUTE, "repeat"],
  ])("%s", (_, repeatEveryMin, afterMs, expected) => {
    const bare: TellPath = { id: "P1", site: "tarn", to: ["ann"] };
    const path = repeatEveryMin === undefined ? bare : { ...bare, repeatEveryMin };
    expect(outcome(ask([fault], told, T + afterMs, ann, path))).toBe(expected);
  });

  it("is told again when the last delivery is dated in the future by a wrong clock", () => {
    expect(outcome(ask([fault], { ...told, at: T + DAY }, T + MINUTE))).toBe("repeat");
    expect(outcome(ask([fault], { ...told, at: T + 5 * MINUTE }, T))).toBe("interval");
  });

  it("is no matter of somebody who is not on the path", () => {
    expect(ask([fault], null, T, { id: "dan", zone: "UTC" })).toMatchObject({
      tell: false,
      nextLookAt: null,
    });
  });
});

describe("an acknowledgement", () => {
  const answered = moved(fault, ACK, T + 5 * MINUTE);
  const holdsUntil = T + 5 * MINUTE + 24 * HOUR;

  it.each([
    [T + HOUR, "acknowledged", "nothing is repeated"],
    [holdsUntil - 1, "acknowledged", "for 24 h"],
    [holdsUntil, "repeat", "and then it is brought to mind again"],
  ])("at %i: %s, %s", (now, expected) => {
    expect(outcome(ask([answered], told, now))).toBe(expected);
  });

  it("names who answers for the silence and when it ends", () => {
    const decision = ask([answered], told, T + HOUR);
    expect(decision).toMatchObject({
      hold: { because: "acknowledged", by: "Ann Lee", untilAt: holdsUntil },
      nextLookAt: holdsUntil,
    });
  });

  it("quiets nobody where the path repeats until cleared", () => {
    const path: TellPath = { ...P1, until: ["cleared"] };
    expect(outcome(ask([answered], told, T + HOUR, ann, path))).toBe("repeat");
  });

  it("covers the alarms that were there and not a further sign, which is told after ten minutes", () => {
    const trip = moved(alarmOf("residual-trip"), { type: "set" }, T + 6 * MINUTE);
    expect(outcome(ask([answered, trip], told, T + 10 * MINUTE - 1))).toBe("interval");
    const decision = ask([answered, trip], told, T + 10 * MINUTE);
    expect(outcome(decision)).toBe("first");
    expect(decision.reason.text).toBe("News: further sign: residual-current trip.");
  });

  it("leaves a further sign news where it falls due together with a repeat", () => {
    const trip = moved(alarmOf("residual-trip"), { type: "set" }, T + MINUTE);
    const path: TellPath = { ...P1, repeatEveryMin: 10 };
    for (const alarms of [
      [fault, trip],
      [trip, fault],
    ])
      expect(outcome(ask(alarms, told, T + 10 * MINUTE, ann, path))).toBe("first");
  });

  it("given before anybody was told keeps it from being told", () => {
    expect(outcome(ask([answered], null, T + 6 * MINUTE))).toBe("acknowledged");
  });
});

describe("a fault that clears", () => {
  const cleared = moved(fault, { type: "cleared" }, T + 3 * HOUR);
  const settledAt = T + 3 * HOUR + 30 * MINUTE;

  it.each([
    [settledAt - 1, "settling"],
    [settledAt, "cleared"],
  ])("is told as cleared once it has kept still for half an hour: at %i %s", (now, expected) => {
    expect(outcome(ask([cleared], told, now))).toBe(expected);
  });

  const saidCleared = recorded(ask([cleared], told, settledAt), settledAt);

  it("is told as cleared once", () => {
    expect(outcome(ask([cleared], saidCleared, settledAt + HOUR))).toBe("interval");
  });

  it.each([
    [settledAt + 7 * DAY - 1, "interval"],
    [settledAt + 7 * DAY, "repeat"],
  ])("is brought to mind weekly until a cause is signed: at %i %s", (now, expected) => {
    expect(outcome(ask([cleared], saidCleared, now))).toBe(expected);
  });

  it.each([
    [7 * DAY - 1, "interval"],
    [7 * DAY, "repeat"],
  ])(
    "is brought to mind of those never told, as it was acknowledged at once: %i ms after it cleared %s",
    (afterMs, expected) => {
      const [early, late] = [fault, active("residual-trip")].map((alarm, n) =>
        moved(moved(alarm, ACK, T + 1), { type: "cleared" }, T + (n + 1) * HOUR),
      );
      expect(outcome(ask([early!, late!], null, T + 2 * HOUR + afterMs))).toBe(expected);
      expect(outcome(ask([early!, late!], null, T + 2 * HOUR + afterMs, cleo))).toBe("nothing-to-tell");
    },
  );

  it("is left alone once the cause is signed", () => {
    const signed = moved(cleared, { type: "sign-cause", by: "Ben", cause: "found" }, settledAt);
    expect(ask([signed], saidCleared, settledAt + 30 * DAY)).toMatchObject({
      tell: false,
      hold: { because: "nothing-to-tell" },
      nextLookAt: null,
    });
  });

  it("and whose case is closed is told as closed once, and speaks for that case no more", () => {
    const again = moved(cleared, { type: "set" }, T + 5 * HOUR);
    const closed = { ...matterOf(again), closedAt: T + 4 * HOUR };
    const decision = shouldTell(closed, ann, P1, told, T + 5 * HOUR);
    expect(outcome(decision)).toBe("cleared");
    const after = recorded(decision, T + 5 * HOUR);
    expect(shouldTell(closed, ann, P1, after, T + 300 * DAY)).toMatchObject({
      tell: false,
      nextLookAt: null,
    });
    expect(shouldTell(closed, ben, P1, null, T + 300 * DAY)).toMatchObject({ tell: false, nextLookAt: null });
  });

  it("and comes again is news at once", () => {
    const again = moved(cleared, { type: "set" }, settledAt + MINUTE);
    const decision = ask([again], saidCleared, settledAt + MINUTE);
    expect(outcome(decision)).toBe("first");
    expect(decision.reason.text).toBe("News: insulation below its threshold again.");
  });

  it("and comes again before it was told as cleared waits for the next repeat", () => {
    const again = moved(cleared, { type: "set" }, T + 3 * HOUR + MINUTE);
    const lately = { ...told, at: T + 3 * HOUR - MINUTE };
    expect(outcome(ask([again], lately, T + 3 * HOUR + MINUTE))).toBe("interval");
    expect(outcome(ask([again], lately, T + 4 * HOUR - MINUTE))).toBe("first");
  });

  it("before anybody was told is told all the same", () => {
    const decision = ask([cleared], null, T + 4 * HOUR);
    expect(outcome(decision)).toBe("first");
    expect(decision.reason.text).toBe(
      "First: insulation below its threshold. It has cleared, and nobody had answered.",
    );
    expect(outcome(ask([cleared], null, T + 4 * HOUR, cleo))).toBe("nothing-to-tell");
  });

  it("is repeated until acknowledged, where that alone stops the path", () => {
    const path: TellPath = { ...P1, until: ["acknowledged"] };
    expect(outcome(ask([cleared], told, T + 4 * HOUR, ann, path))).toBe("repeat");
    expect(outcome(ask([moved(cleared, ACK, T + 4 * HOUR)], told, T + 4 * HOUR, ann, path))).toBe("cleared");
  });

  it("while another sign stays is no clearing", () => {
    const trip = active("residual-trip");
    const both = recorded(ask([fault, trip], null, T), T);
    expect(outcome(ask([cleared, trip], both, T + 4 * HOUR))).toBe("repeat");
    expect(outcome(ask([cleared, moved(trip, { type: "cleared" }, T + 3 * HOUR)], both, T + 4 * HOUR))).toBe(
      "cleared",
    );
  });
});

describe("an alarm that is kept quiet", () => {
  const request = { by: "Ann Lee", reason: "roof wet", untilAt: T + 90 * MINUTE };
  it.each<[string, AlarmEvent]>([
    ["shelved", { type: "shelve", ...request, nextSunriseAt: null }],
    ["suppressed-by-design", { type: "suppress", ...request }],
    ["out-of-service", { type: "begin-maintenance", ...request }],
  ])("%s says who, why and until when, and is told from that instant on", (because, event) => {
    const quiet = moved(fault, event, T);
    const decision = ask([quiet], told, T + HOUR);
    expect(decision).toMatchObject({
      tell: false,
      hold: { because, by: "Ann Lee", untilAt: T + 90 * MINUTE },
      nextLookAt: T + 90 * MINUTE,
    });
    expect(decision.reason.text).toContain("by Ann Lee until 2026-06-01 06:42 UTC: roof wet");
    expect(outcome(ask([quiet], told, T + 90 * MINUTE - 1))).toBe(because);
    expect(outcome(ask([quiet], told, T + 90 * MINUTE))).toBe("repeat");
  });

  it("does not quiet another alarm of the case, and its end is looked at though it comes before the repeat", () => {
    const quiet = moved(
      fault,
      { type: "shelve", ...request, nextSunriseAt: null, untilAt: T + 30 * MINUTE },
      T,
    );
    const decision = ask([quiet, active("residual-trip")], null, T);
    expect(decision).toMatchObject({ tell: true, nextLookAt: T + 30 * MINUTE });
    const [said] = recorded(decision, T).told;
    expect(said!.alarm).toBe("A1 residual-trip");
  });
});

describe("reading hours", () => {
  const friday = Date.UTC(2026, 5, 5, 14, 30); // 16:30 in Berlin
  const begun = moved(alarmOf(), { type: "set" }, friday);
  const first = recorded(ask([begun], null, friday, ben), friday);

  it("do not hold back a first message: it waits in the mailbox", () => {
    expect(outcome(ask([begun], null, friday + 5 * HOUR, ben))).toBe("first");
  });

  it.each([
    [friday + HOUR, "reading-hours", "Friday 17:30"],
    [Date.UTC(2026, 5, 8, 5, 0) - 1, "reading-hours", "Monday, just before 07:00"],
    [Date.UTC(2026, 5, 8, 5, 0), "repeat", "Monday 07:00"],
  ])("hold repeats: at %i %s, %s", (now, expected) => {
    expect(outcome(ask([begun], first, now, ben))).toBe(expected);
  });

  it.each<[string, TellPerson, number, number]>([
    ["07:00 after the night that gains an hour", ben, Date.UTC(2026, 9, 25, 12), Date.UTC(2026, 9, 26, 6)],
    ["07:00 after the night that loses an hour", ben, Date.UTC(2026, 2, 29, 12), Date.UTC(2026, 2, 30, 5)],
    [
      "07:00 on Lord Howe before half an hour is gained",
      { ...ben, zone: "Australia/Lord_Howe" },
      Date.UTC(2026, 3, 2, 12),
      Date.UTC(2026, 3, 2, 20),
    ],
    [
      "07:00 on Lord Howe after",
      { ...ben, zone: "Australia/Lord_Howe" },
      Date.UTC(2026, 3, 5, 12),
      Date.UTC(2026, 3, 5, 20, 30),
    ],
    ["07:00 on a leap day", ben, Date.UTC(2028, 1, 28, 20), Date.UTC(2028, 1, 29, 6)],
  ])("begin at %s", (_, person, now, readsAt) => {
    const long = { ...first, at: now - 2 * HOUR };
    expect(ask([moved(alarmOf(), { type: "set" }, now - 3 * HOUR)], long, now, person).nextLookAt).toBe(
      readsAt,
    );
  });

  it("that are not known, or are none, hold nothing", () => {
    expect(outcome(ask([begun], first, friday + HOUR, { ...ben, reads: [] }))).toBe("repeat");
  });
});

describe("people who cannot be reached", () => {
  it.each<[string, Partial<TellPerson>, string, number]>([
    ["away today", { away: [{ from: "2026-05-30", to: "2026-06-01" }] }, "away", Date.UTC(2026, 5, 1, 22)],
    [
      "away until the leap day",
      { away: [{ from: "2026-05-30", to: "2028-02-29" }] },
      "away",
      Date.UTC(2028, 1, 29, 23),
    ],
    ["broken", { broken: { sinceAt: T, reason: "mailbox full" } }, "broken", T + HOUR],
    ["gone since yesterday", { until: "2026-05-31" }, "post-ended", T + HOUR],
  ])("%s are passed over, with a time to look again", (_, change, because, untilAt) => {
    const decision = ask([fault], null, T, { ...ann, ...change });
    expect(decision).toMatchObject({ tell: false, hold: { because, untilAt }, nextLookAt: untilAt });
  });

  it.each<[string, Partial<TellPerson>]>([
    ["on the day after an absence", { away: [{ from: "2026-05-01", to: "2026-05-31" }] }],
    ["on the day before one", { away: [{ from: "2026-06-02", to: "2026-06-09" }] }],
    ["on the last day of the post", { until: "2026-06-01" }],
  ])("are reached %s", (_, change) => {
    expect(outcome(ask([fault], null, T, { ...ann, ...change }))).toBe("first");
  });

  it("are tried all the same where the path says so", () => {
    const away = { ...ann, away: [{ from: "2026-06-01", to: "2026-06-01" }] };
    expect(outcome(ask([fault], null, T, away, { ...P1, disregards: ["away"] }))).toBe("first");
  });
});

describe("the ladder", () => {
  it.each([
    [T + 2 * HOUR - 1, "later-rung"],
    [T + 2 * HOUR, "escalation"],
  ])("calls the next person after two hours without an answer: at %i %s", (now, expected) => {
    expect(outcome(ask([fault], null, now, cleo))).toBe(expected);
  });

  it("counts from the end of an acknowledgement, not from the fault", () => {
    const answered = moved(fault, ACK, T + MINUTE);
    expect(outcome(ask([answered], null, T + 25 * HOUR, cleo))).toBe("later-rung");
    expect(outcome(ask([answered], null, T + MINUTE + 26 * HOUR, cleo))).toBe("escalation");
  });

  it("says for how long nobody has answered, and repeats afterwards", () => {
    const decision = ask([fault], null, T + 2 * HOUR, cleo);
    expect(decision.reason.text).toBe(
      "Escalation: insulation below its threshold, for 2 h without an answer.",
    );
    expect(outcome(ask([fault], recorded(decision, T + 2 * HOUR), T + 3 * HOUR, cleo))).toBe("repeat");
  });

  it.each<[string, number, string]>([
    ["19:12, before the night", T + 12 * HOUR, "rung-hours"],
    ["20:00", Date.UTC(2026, 5, 1, 18), "escalation"],
    ["05:59", Date.UTC(2026, 5, 2, 4) - MINUTE, "escalation"],
    ["06:00", Date.UTC(2026, 5, 2, 4), "rung-hours"],
  ])("of a night rung keeps to its hours: %s", (_, now, expected) => {
    const night = [0, 1, 2, 3, 4, 5, 6].flatMap((day) => [
      { fromMinute: day * 1440, toMinute: day * 1440 + 360 },
      { fromMinute: day * 1440 + 1200, toMinute: day * 1440 + 1440 },
    ]);
    const path: TellPath = { ...P1, ladder: [{ afterMin: 60, to: ["cleo"], hours: night }] };
    expect(outcome(ask([fault], null, now, cleo, path))).toBe(expected);
  });
});

describe("what is no earth fault", () => {
  it.each([
    [T + DAY - 1, "interval"],
    [T + DAY, "repeat"],
  ])("is repeated daily: at %i %s", (now, expected) => {
    const silent = active("detector-silent");
    const said = recorded(shouldTell(matterOfAlarm(silent), ann, P1, null, T), T);
    expect(outcome(shouldTell(matterOfAlarm(silent), ann, P1, said, now))).toBe(expected);
  });

  it("does not slow down the fault beside it", () => {
    const alarms = [fault, active("dawn-recurring")];
    const both = recorded(ask(alarms, null, T), T);
    expect(outcome(ask(alarms, both, T + HOUR))).toBe("repeat");
  });
});

describe("the key of a message", () => {
  it("is the same for the same decision, so that a message sent twice over a crash can be known", () => {
    const [one, other] = [ask([fault], told, T + HOUR), ask([fault], told, T + HOUR + 20_000)];
    expect(one.tell && one.message.key).toBe('["C1","P1","ann","repeat",2]');
    expect(other).toMatchObject({ message: { key: '["C1","P1","ann","repeat",2]' } });
  });

  it("differs between persons, paths and messages, whatever the ids are made of", () => {
    const key = (last: Delivery | null, person: TellPerson, path: TellPath) => {
      const decision = shouldTell(matterOf(fault), person, path, last, T + HOUR);
      return decision.tell ? decision.message.key : "";
    };
    const odd = { ...P1, id: 'P1","ann' };
    const keys = [key(null, ann, P1), key(null, ben, P1), key(told, ann, P1), key(null, ann, odd)];
    expect(new Set(keys).size).toBe(4);
    expect(keys).not.toContain("");
  });
});
