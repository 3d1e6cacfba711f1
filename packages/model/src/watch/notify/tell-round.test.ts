import type { MessagePath, Minutes, Person } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { newAlarm } from "../alarm/alarm.ts";
import type { Case } from "../case/case.ts";
import type { Drill } from "../drill/drill-record.ts";
import { HOUR } from "../time/span.ts";
import { recipientSigns } from "../supervision.ts";
import type { Delivery } from "./delivery.ts";
import { matterOfAlarm, matterOfCase, matterOfDrill, mattersOf } from "./matter.ts";
import { active, ann, ben, cleo, moved, outcome, P1, recorded, T } from "./people.fixture.ts";
import { tellPathOf, type TellPerson, tellPersonOf } from "./recipients.ts";
import { tellRound } from "./tell-round.ts";

const today = "2026-06-01";
const away = { away: [{ from: today, to: today }] };
const broken = { broken: { sinceAt: T, reason: "mailbox full" } };
const gone = { until: "2026-05-31" };
const alarm = active();
const record: Case = {
  id: "C1",
  site: "tarn",
  array: "A1",
  openedAt: T,
  recurrenceOf: null,
  alarms: [alarm.id],
  presentAlarms: [alarm.id],
  latchedAlarms: [alarm.id],
  lastBeganAt: T,
  cause: null,
  measured: null,
  ownerTold: null,
  closed: null,
  timeline: [],
};
const matter = matterOfCase(record, [alarm]);
const round = (people: readonly TellPerson[], now = T) => tellRound(matter, P1, people, [], now);
const kinds = (people: readonly TellPerson[]) =>
  round(people).decisions.map(({ decision }) => outcome(decision));

describe("a round over the people of a path", () => {
  it.each<[string, TellPerson[], string[]]>([
    ["tells the first ones and keeps the ladder waiting", [ann, ben, cleo], ["first", "first", "later-rung"]],
    ["passes over one who is away", [{ ...ann, ...away }, ben, cleo], ["away", "first", "later-rung"]],
    [
      "calls the ladder at once when none of the first can be reached",
      [{ ...ann, ...away }, { ...ben, ...broken }, cleo],
      ["away", "broken", "escalation"],
    ],
    [
      "tries those on leave when everybody is",
      [
        { ...ann, ...away },
        { ...ben, ...away },
        { ...cleo, ...away },
      ],
      ["first", "first", "escalation"],
    ],
    [
      "prefers somebody on leave to a broken address",
      [
        { ...ann, ...broken },
        { ...ben, ...away },
        { ...cleo, ...gone },
      ],
      ["broken", "first", "post-ended"],
    ],
    [
      "tries broken addresses when nothing else is left",
      [
        { ...ann, ...broken },
        { ...ben, ...gone },
        { ...cleo, ...gone },
      ],
      ["first", "post-ended", "post-ended"],
    ],
    [
      "and those who have left when only they are",
      [
        { ...ann, ...gone },
        { ...ben, ...gone },
        { ...cleo, ...gone },
      ],
      ["first", "first", "escalation"],
    ],
  ])("%s", (_, people, expected) => {
    expect(kinds(people)).toEqual(expected);
  });

  it("calls only as far up the ladder as it takes to reach somebody", () => {
    const dan = { id: "dan", zone: "Europe/Berlin" };
    const path = {
      ...P1,
      ladder: [
        { afterMin: 120, to: ["cleo"] },
        { afterMin: 240, to: ["dan"] },
      ],
    };
    const ask = (...people: readonly TellPerson[]) =>
      tellRound(matter, path, people, [], T).decisions.map(({ decision }) => outcome(decision));
    const unreachable = [ann, ben].map((person) => ({ ...person, ...away }));
    expect(ask(...unreachable, cleo, dan)).toEqual(["away", "away", "escalation", "later-rung"]);
    expect(ask(...unreachable, { ...cleo, ...broken }, dan)).toEqual([
      "away",
      "away",
      "broken",
      "escalation",
    ]);
  });

  it("says what is wrong with the path", () => {
    expect(round([ann, cleo]).remarks).toEqual(["ben is on path P1 and is not among the people known."]);
    expect(round([{ ...ann, ...away }, { ...ben, ...away }, cleo]).remarks).toHaveLength(1);
    expect(round([]).remarks[0]).toBe("Path P1 names nobody who is known. Name somebody.");
  });

  it("goes by the newest delivery of each person, and looks again when the first of them is due", () => {
    const { decisions } = round([ann, ben, cleo]);
    const deliveries = decisions.slice(0, 2).map(({ decision }, n) => recorded(decision, T + n * HOUR));
    const next = tellRound(matter, P1, [ann, ben, cleo], deliveries, T + HOUR);
    expect(next.decisions.map(({ decision }) => outcome(decision))).toEqual([
      "repeat",
      "interval",
      "later-rung",
    ]);
    expect(next.nextLookAt).toBe(T + 2 * HOUR);
  });
});

describe("a person who cannot be reached", () => {
  const mended = { ...ben, ...broken };
  const sign = recipientSigns(P1, [ann, mended, cleo], T).find(({ change }) => change === "set")!;
  const silent = moved(newAlarm("P1 ben", "tarn", sign.subject, sign.sign), { type: "set" }, T);

  it("is told of by the path's own alarm, to the others", () => {
    const { decisions } = tellRound(matterOfAlarm(silent), P1, [ann, mended, cleo], [], T);
    expect(decisions.map(({ decision }) => outcome(decision))).toEqual(["first", "broken", "later-rung"]);
  });
});

describe("the matters of a site", () => {
  const open = { ...record, alarms: [alarm.id] };
  const drift = active("insulation-drifting");
  it("are its cases, and the alarms that no open case has taken in", () => {
    const ids = (cases: readonly Case[]) =>
      mattersOf(cases, [alarm, drift]).map(({ id, alarms }) => [id, alarms.length]);
    expect(ids([open])).toEqual([
      ["C1", 1],
      [drift.id, 1],
    ]);
    expect(ids([{ ...open, alarms: [alarm.id, drift.id] }])).toEqual([["C1", 2]]);
    expect(ids([{ ...open, closed: { by: "Ann", at: T } }])).toEqual([
      ["C1", 1],
      [alarm.id, 1],
      [drift.id, 1],
    ]);
    expect(ids([])).toEqual([
      [alarm.id, 1],
      [drift.id, 1],
    ]);
  });
});

describe("the next look", () => {
  // Midnight in Berlin in June is 22:00 UTC of the day before, in January 23:00.
  it.each<[string, TellPerson, number, number]>([
    [
      "comes when an absence begins",
      { ...ann, away: [{ from: "2026-06-02", to: "2026-06-05" }] },
      T,
      Date.UTC(2026, 5, 1, 22),
    ],
    [
      "comes when an absence ends",
      { ...ann, away: [{ from: "2026-05-02", to: "2026-06-01" }] },
      T,
      Date.UTC(2026, 5, 1, 22),
    ],
    ["comes when a post ends", { ...ann, until: "2026-06-01" }, T, Date.UTC(2026, 5, 1, 22)],
    [
      "passes over what is past",
      { ...ann, until: "2026-06-09", away: [{ from: "2026-05-02", to: "2026-05-09" }] },
      T,
      Date.UTC(2026, 5, 9, 22),
    ],
  ])("%s", (_, person, now, at) => {
    const acknowledged = { ...alarm, acknowledged: { by: "Ann", at: T + 9 * 24 * HOUR } };
    const quiet = { ...matter, alarms: [acknowledged] };
    expect(tellRound(quiet, P1, [person, ben, cleo], [], now).nextLookAt).toBe(at);
  });
});

describe("a round of a drill", () => {
  const drill: Drill = {
    id: "D1",
    site: "tarn",
    path: "P1",
    trigger: "scheduled",
    by: null,
    startedAt: T,
    answerByAt: T + 24 * HOUR,
    recipients: [
      { person: "ann", acknowledgedAt: null },
      { person: "cleo", acknowledgedAt: null },
    ],
    leftOut: [{ person: "ben", reason: "away" }],
    ended: null,
  };
  const ask = (now: number, of: Drill = drill, deliveries: Parameters<typeof tellRound>[3] = []) =>
    tellRound(matterOfDrill(of), P1, [ann, ben, cleo], deliveries, now).decisions.map(({ decision }) =>
      outcome(decision),
    );

  it("goes to all who take part at once, the ladder included, as a drill", () => {
    expect(ask(T)).toEqual(["drill", "not-on-the-path", "drill"]);
  });

  it("is repeated hourly to whoever has not acknowledged, and ends with its time", () => {
    const first = tellRound(matterOfDrill(drill), P1, [ann, ben, cleo], [], T).decisions;
    const sent = [first[0]!, first[2]!].map(({ decision }) => recorded(decision, T));
    const answered: Drill = {
      ...drill,
      recipients: [
        { person: "ann", acknowledgedAt: T + 1 },
        { person: "cleo", acknowledgedAt: null },
      ],
    };
    expect(ask(T + HOUR - 1, answered, sent)).toEqual(["nothing-to-tell", "not-on-the-path", "interval"]);
    expect(ask(T + HOUR, answered, sent)).toEqual(["nothing-to-tell", "not-on-the-path", "drill"]);
    expect(ask(T + 24 * HOUR, answered, sent)).toEqual([
      "nothing-to-tell",
      "not-on-the-path",
      "nothing-to-tell",
    ]);
  });

  it("numbers its messages, so that each has a key of its own", () => {
    const ask = (last: readonly Delivery[], now: number) =>
      tellRound(matterOfDrill(drill), P1, [ann], last, now).decisions[0]!.decision;
    const first = ask([], T);
    expect(first).toMatchObject({ message: { key: '["D1","P1","ann","drill",1]' } });
    expect(ask([recorded(first, T)], T + HOUR)).toMatchObject({
      message: { key: '["D1","P1","ann","drill",2]' },
    });
  });

  it("keeps no real fault from being told", () => {
    expect(kinds([ann, ben, cleo])).toEqual(["first", "first", "later-rung"]);
  });
});

describe("a path and its people from a site file", () => {
  it("keep what the file says and leave out what it does not", () => {
    const path: MessagePath = {
      id: "P1",
      arrays: ["A1"],
      signal: "message",
      to: ["ann"],
      repeatEvery: 30 as Minutes,
      until: ["cleared"],
    };
    expect(tellPathOf(path, "tarn")).toEqual({
      id: "P1",
      site: "tarn",
      to: ["ann"],
      repeatEveryMin: 30,
      until: ["cleared"],
    });
    const person: Person = { id: "ann", until: "2026-12-31" };
    expect(tellPersonOf(person, "Europe/Berlin")).toEqual({
      id: "ann",
      zone: "Europe/Berlin",
      until: "2026-12-31",
    });
    expect(tellPersonOf({ ...person, timezone: "Asia/Tokyo" }, "Europe/Berlin").zone).toBe("Asia/Tokyo");
  });
});
