import { CAUTIONS, cautionsFor, OWNER_MUST_BE_TOLD } from "@earthbell/engine";
import { type SignKind, SIGNS } from "@earthbell/model";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  acknowledgedAlarm,
  ANSWER_URL,
  clearedAlarm,
  drilled,
  HOUR,
  matterOf,
  nobody,
  P1,
  setAlarm,
  stopped,
  stormy,
  T,
  toldOf,
} from "./occasion.fixture.ts";
import type { Occasion } from "./occasion.ts";
import { wordsFor } from "./words.ts";

const trade = { id: "ben", role: "service" } as const;
const kinds = Object.keys(SIGNS) as SignKind[];
const upkeep = kinds.filter((sign) => !SIGNS[sign].opensCase);
const faults = kinds.filter((sign) => SIGNS[sign].opensCase);

/** Every kind of message, to an owner. */
const EVERY: readonly (readonly [string, Occasion])[] = [
  ["a first message", toldOf(setAlarm())],
  ["a repeat", toldOf(setAlarm(), { kind: "repeat", sequence: 3 })],
  ["an escalation", toldOf(setAlarm(), { kind: "escalation" })],
  ["a clearing", toldOf(clearedAlarm(), { kind: "cleared", sequence: 4 })],
  ["a reminder to sign", toldOf(clearedAlarm(), { kind: "repeat", sequence: 5 })],
  ...upkeep.map((sign) => [`upkeep, ${sign}`, toldOf(setAlarm(sign))] as const),
  ["a storm of faults", stormy],
  ["a storm of silent paths", { ...stormy, faults: false }],
  ["an unclean stop", stopped],
];

/** What is told of the desk itself. */
const NOTICES: readonly (readonly [string, Occasion])[] = [
  ["nobody to tell", nobody],
  ["a missed drill", { ...nobody, notice: "drill-missed" }],
  ["a clock that went back", { ...nobody, notice: "clock-went-back" }],
];

/** Words that suggest doing something at the array. */
const ACTION = /\b(?:Call|Shut the system down|Look at|Tell the person|Have the visit)\b/u;

describe("cautions", () => {
  it.each(EVERY)("stand before everything an owner could act on: %s", (_, occasion) => {
    const { text } = wordsFor(occasion);
    const caution = text.indexOf(OWNER_MUST_BE_TOLD[0]!.value);
    expect(caution).toBeGreaterThan(-1);
    const action = text.search(ACTION);
    if (action !== -1) expect(caution).toBeLessThan(action);
    const live = text.indexOf("stay live in daylight");
    expect(live).toBeGreaterThan(-1);
    if (action !== -1) expect(live).toBeLessThan(action);
  });

  it.each(EVERY)(
    "stand whole and in order before everything a service person could act on: %s",
    (_, occasion) => {
      const { text } = wordsFor({ ...occasion, person: trade });
      const at = cautionsFor("arrive").map((caution) => text.indexOf(caution.text));
      expect(at.every((position) => position !== -1)).toBe(true);
      expect(at).toEqual(at.toSorted((one, other) => one - other));
      const action = text.search(ACTION);
      if (action !== -1) expect(at.at(-1)!).toBeLessThan(action);
    },
  );

  it.each(faults)("an owner is told everything that must be told of an operated alarm: %s", (sign) => {
    const { text } = wordsFor(toldOf(setAlarm(sign)));
    for (const { value } of OWNER_MUST_BE_TOLD) expect(text).toContain(value.replace(/\.$/u, ""));
    expect(text).toContain("Call the number given here: Holm Solar, +00 5550 1234");
  });

  it("nobody is ever told to open anything", () => {
    for (const [, occasion] of [...EVERY, ...NOTICES])
      for (const person of [occasion.person, trade]) {
        const { text } = wordsFor({ ...occasion, person });
        const own = CAUTIONS.reduce((rest, caution) => rest.replace(caution.text, ""), text);
        const opening = own
          .split("\n")
          .filter((line) => /\b(?:open|part(?:ed)?|unplug|disconnect|reset)\b/iu.test(line));
        const allowed =
          /Open no cover|No connector, fuse or link is parted before zero current|That opens nothing/u;
        expect(opening.filter((line) => !allowed.test(line))).toEqual([]);
      }
  });

  it.each([
    ["an owner", { id: "ann", role: "owner" } as const, OWNER_MUST_BE_TOLD[0]!.value],
    ["a service person", trade, CAUTIONS.find(({ id }) => id === "metal-may-be-live")!.text],
  ])("a text message to %s carries its caution whole, before the number", (_, person, caution) => {
    const { text } = wordsFor({ ...toldOf(setAlarm()), channel: "sms", person });
    expect(text.indexOf(caution)).toBeGreaterThan(-1);
    expect(text.indexOf(caution)).toBeLessThan(text.indexOf("Holm Solar"));
    expect(text.endsWith(`Acknowledge: ${ANSWER_URL}`)).toBe(true);
  });
});

describe("subjects say what it is", () => {
  it.each<[string, Occasion, string]>([
    ["first", toldOf(setAlarm()), "Alarm: Tarn Mill, insulation below its threshold, array A1"],
    [
      "repeat",
      toldOf(setAlarm(), { kind: "repeat" }),
      "Alarm, again: Tarn Mill, insulation below its threshold, array A1",
    ],
    [
      "escalation",
      toldOf(setAlarm(), { kind: "escalation" }),
      "Alarm, passed on to you: Tarn Mill, insulation below its threshold, array A1",
    ],
    [
      "cleared",
      toldOf(clearedAlarm(), { kind: "cleared" }),
      "Cleared, not repaired: Tarn Mill, insulation below its threshold, array A1",
    ],
    [
      "reminder to sign",
      toldOf(clearedAlarm(), { kind: "repeat" }),
      "Cleared, no cause signed: Tarn Mill, insulation below its threshold, array A1",
    ],
    [
      "closed",
      toldOf(clearedAlarm(), {
        kind: "cleared",
        matter: { ...matterOf(clearedAlarm()), closedAt: T + 2 * HOUR },
      }),
      "Closed: Tarn Mill, insulation below its threshold, array A1",
    ],
    [
      "two signs",
      toldOf(setAlarm(), { matter: matterOf(setAlarm(), setAlarm("residual-trip")) }),
      "Alarm: Tarn Mill, insulation below its threshold, array A1 and 1 more",
    ],
    ["upkeep", toldOf(setAlarm("path-silent")), "Needs looking after: Tarn Mill, path silent, path P1"],
    [
      "upkeep over",
      toldOf(clearedAlarm("path-silent"), { kind: "cleared" }),
      "In order again: Tarn Mill, path silent, path P1",
    ],
    ["drill", drilled, "Drill, no fault: Tarn Mill, path P1"],
    ["storm", stormy, "Alarms: 3 sites behind gateway G7, which may be the common cause"],
    ["nobody to tell", nobody, "A fault at Tarn Mill would reach nobody"],
    ["unclean stop", stopped, "Not listening for 3 h: Tarn Mill"],
  ])("%s", (_, occasion, subject) => {
    expect(wordsFor(occasion).subject).toBe(subject);
  });
});

describe("a message", () => {
  it("tells when it happened in the site's time and in UTC", () => {
    expect(wordsFor(toldOf(setAlarm())).text).toContain(
      "since 1 June 2026 at 07:12 in Europe/Berlin (2026-06-01 05:12 UTC). It is there now.",
    );
  });

  it("names UTC alone where the zone is not known", () => {
    const { text } = wordsFor(toldOf(setAlarm(), { site: { id: "tarn", zone: "Nowhere/Such" } }));
    expect(text).toContain("since 2026-06-01 05:12 UTC. It is there now.");
  });

  it("repeats what the detector said and why it is sent", () => {
    const saw = ["A1 reads 10.3 kΩ, below 30 kΩ."];
    const { text } = wordsFor(toldOf(setAlarm(), { saw }));
    expect(text).toContain("- A1 reads 10.3 kΩ, below 30 kΩ.");
    expect(text).toContain("- First: insulation below its threshold.");
  });

  it.each<[string, Partial<typeof P1>, string]>([
    ["either stops it", {}, "Every 60 min, until somebody acknowledges or it has cleared."],
    [
      "only clearing stops it",
      { until: ["cleared"] },
      "It does not stop the messages of this path, which go on until the fault has cleared.",
    ],
    ["a longer interval", { repeatEveryMin: 240 }, "Every 4 h, until"],
    ["no interval named: hourly", {}, "Every 60 min, until"],
  ])("tells when it comes again: %s", (_, change, line) => {
    expect(wordsFor(toldOf(setAlarm(), { path: { ...P1, ...change } })).text).toContain(line);
  });

  it.each<[string, Occasion, string]>([
    ["upkeep once a day", toldOf(setAlarm("detector-silent")), "Every 24 h, until"],
    ["unsigned", toldOf(clearedAlarm(), { kind: "cleared" }), "Every 7 d, until a named person signs"],
    [
      "closed",
      toldOf(clearedAlarm(), {
        kind: "cleared",
        matter: { ...matterOf(clearedAlarm()), closedAt: T + HOUR },
      }),
      "Not again. A fault of this array that comes back opens a new case.",
    ],
  ])("tells when it comes again: %s", (_, occasion, line) => {
    expect(wordsFor(occasion).text).toContain(line);
  });

  it("tells who acknowledged and when", () => {
    expect(wordsFor(toldOf(acknowledgedAlarm())).text).toContain(
      "Acknowledged by ben on 1 June 2026 at 08:12 in Europe/Berlin",
    );
  });

  it("tells what acknowledging does and does not do, beside the link", () => {
    const { text } = wordsFor(toldOf(setAlarm()));
    expect(text).toContain(
      `Acknowledge here:\n${ANSWER_URL}\n- The page says what it will do before it does it.`,
    );
    expect(text).toContain("It repairs nothing, clears nothing and closes no case.");
  });

  it("asks for no acknowledgement where there is nothing to acknowledge", () => {
    const { acknowledgeUrl, ...occasion } = toldOf(clearedAlarm(), { kind: "cleared" });
    expect(wordsFor({ ...occasion, acknowledgeUrl: acknowledgeUrl! }).text).toMatch(/acknowledge here/iu);
    expect(wordsFor(occasion).text).not.toMatch(/acknowledge here/iu);
  });

  it("a drill says that it is one first, in full, also as a text message", () => {
    const words = "This is a drill. It reports no earth fault at Tarn Mill.";
    const real =
      "If an alarm sounds or shows at the site meanwhile, or another message reports a fault, take that as real.";
    for (const channel of ["email", "sms"] as const) {
      const { text } = wordsFor({ ...drilled, channel });
      expect(text.startsWith(words)).toBe(true);
      expect(text).toContain(real);
    }
  });

  it("a storm names every site", () => {
    for (const line of stormy.planned.lines) expect(wordsFor(stormy).text).toContain(`- ${line}`);
  });
});

describe("names from files cannot forge a message", () => {
  const evil = "Tarn\r\nBcc: all@example.org\r\n\r\nAll is well\u2028\u202Egnihton od";

  it.each([...EVERY, ...NOTICES])("line ends in every name stay in their line: %s", (_, occasion) => {
    const clean = wordsFor({ ...occasion, site: { ...occasion.site, name: "Tarn" } });
    const forged = wordsFor({ ...occasion, site: { ...occasion.site, name: evil } });
    expect(forged.text.split("\n")).toHaveLength(clean.text.split("\n").length);
    expect(forged.subject).not.toMatch(/[\r\n\u2028\u202e]/u);
    expect(forged.text).not.toMatch(/[\r\u2028\u202e]/u);
  });

  it("any name gives one line of subject and the same number of lines of text", () => {
    const lines = wordsFor(toldOf(setAlarm())).text.split("\n").length;
    fc.assert(
      fc.property(
        fc.string({ unit: "binary", minLength: 1 }),
        fc.string({ unit: "grapheme" }),
        (name, other) => {
          const site = { id: other, name, zone: "UTC", contact: other };
          const { subject, text } = wordsFor(toldOf(setAlarm(), { site, path: { ...P1, id: other } }));
          expect(subject).not.toMatch(/[\p{Cc}\p{Cs}]/u);
          expect(text.split("\n")).toHaveLength(lines);
        },
      ),
      { numRuns: 200 },
    );
  });
});
