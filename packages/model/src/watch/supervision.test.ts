import type { AnnunciatorPath, MessagePath, Minutes } from "@earthbell/engine";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DAY, HOUR, MINUTE } from "./time/span.ts";
import { ann, ben, cleo, P1, T } from "./notify/people.fixture.ts";
import {
  lifeEveryMinOf,
  type PathWatch,
  recipientSigns,
  signOfLife,
  supervise,
  watchPath,
} from "./supervision.ts";

const PLACE = { site: "tarn", path: "P1" };
const daily = watchPath(PLACE, 1440, T);
/** 24 h and a tenth of it. */
const DEADLINE = T + 1584 * MINUTE;

describe("the deadline of a path", () => {
  it.each([
    [1440, 1584, "a day and a tenth of it"],
    [60, 66, "an hour and a tenth"],
    [15, 20, "a quarter of an hour, and at least five minutes"],
    [50, 55, "where a tenth is five minutes, both agree"],
  ])("of a sign of life every %i min is %i min after the last: %s", (every, minutes) => {
    expect(watchPath(PLACE, every, T).deadlineAt).toBe(T + minutes * MINUTE);
  });

  it("comes from the site file, and is missing where nothing supervises", () => {
    const path: MessagePath = {
      id: "P1",
      arrays: [],
      signal: "message",
      to: [],
      link: { supervisedEvery: 60 as Minutes },
    };
    const horn: AnnunciatorPath = { id: "P2", arrays: [], signal: "annunciator" };
    expect([path, { ...path, link: {} }, horn].map(lifeEveryMinOf)).toEqual([60, null, null]);
    expect(watchPath(PLACE, null, T).deadlineAt).toBeNull();
  });

  it("moves with each sign of life, never back, and not by a clock that is ahead", () => {
    expect(signOfLife(daily, T + HOUR, T + HOUR).deadlineAt).toBe(DEADLINE + HOUR);
    expect(signOfLife(daily, T - DAY, T + HOUR)).toEqual(daily);
    expect(signOfLife(daily, T + 3650 * DAY, T + HOUR).deadlineAt).toBe(DEADLINE + HOUR);
  });

  it("is the same whatever order signs of life come in", () => {
    const instants = fc.array(fc.integer({ min: 0, max: 100_000 }), { minLength: 1 });
    fc.assert(
      fc.property(
        instants.chain((list) =>
          fc.tuple(fc.constant(list), fc.shuffledSubarray(list, { minLength: list.length })),
        ),
        ([list, shuffled]) => {
          const now = T + DAY;
          const after = (order: readonly number[]): PathWatch =>
            order.reduce((watch, ms) => signOfLife(watch, T + ms, now), daily);
          expect(after(shuffled)).toEqual(after(list));
        },
      ),
    );
  });
});

describe("a path that falls silent", () => {
  it.each([
    [DEADLINE, false, "the deadline itself is in time"],
    [DEADLINE + 1, true, "a millisecond after it is silent"],
  ])("at %i: %s, %s", (now, silent) => {
    const { watch, sign } = supervise(daily, now);
    expect(watch.silent).toBe(silent);
    expect(sign?.change ?? null).toBe(silent ? "set" : null);
  });

  const fallen = supervise(daily, DEADLINE + 1);

  it("is said once, in words that say what to do", () => {
    expect(fallen.sign).toMatchObject({
      sign: "path-silent",
      subject: { kind: "path", path: "P1", person: null },
    });
    expect(fallen.reason.text).toBe(
      "Path P1 has been silent for 26 h, since 2026-06-01 05:12 UTC. A fault would not be heard by it. Look at the link and its power supply.",
    );
    expect(fallen.reason.limits.map(({ tag }) => tag)).toEqual(["design choice", "design choice"]);
    expect(supervise(fallen.watch, DEADLINE + DAY).sign).toBeNull();
  });

  it("is heard again with the next sign of life, dated by it", () => {
    const heard = supervise(
      signOfLife(fallen.watch, DEADLINE + HOUR, DEADLINE + HOUR),
      DEADLINE + HOUR + MINUTE,
    );
    expect(heard.sign).toMatchObject({ change: "cleared", at: DEADLINE + HOUR });
    expect(heard.watch.silent).toBe(false);
  });

  it("gives the same key when it is judged again after a crash", () => {
    expect(supervise(daily, DEADLINE + 1).sign!.key).toBe(supervise(daily, DEADLINE + HOUR).sign!.key);
  });

  it("cannot be found where nothing supervises it, and that is said", () => {
    const { sign, reason } = supervise(watchPath(PLACE, null, T), T + 3650 * DAY);
    expect(sign).toBeNull();
    expect(reason.text).toContain("nobody would notice");
  });

  it("counts hours that pass, not hours on the wall: a daylight-saving night moves no deadline", () => {
    const night = Date.UTC(2026, 2, 28, 22);
    const watch = watchPath(PLACE, 600, night);
    expect(watch.deadlineAt).toBe(night + 660 * MINUTE);
  });
});

describe("a recipient who cannot be reached", () => {
  const broken = { ...ben, broken: { sinceAt: T, reason: "mailbox full" } };

  it("is reported as an alarm of the path, one for each person", () => {
    const signs = recipientSigns(P1, [ann, broken, cleo, { id: "dan", zone: "UTC" }], T + HOUR);
    expect(signs.map(({ subject, change }) => [subject.kind === "path" && subject.person, change])).toEqual([
      ["ann", "cleared"],
      ["ben", "set"],
      ["cleo", "cleared"],
    ]);
    expect(signs[1]).toMatchObject({ sign: "path-silent", at: T });
    expect(signs[1]!.reason.text).toContain("mailbox full. Correct the address, or name somebody else.");
  });

  it("has a new key when it breaks a second time", () => {
    const key = (sinceAt: number) =>
      recipientSigns(P1, [{ ...ben, broken: { sinceAt, reason: "x" } }], T)[0]!.key;
    expect(key(T)).toBe(key(T));
    expect(key(T)).not.toBe(key(T + 1));
  });
});
