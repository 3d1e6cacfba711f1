import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { quietOf } from "./alarm/alarm.ts";
import type { AlarmEvent } from "./alarm/alarm-event.ts";
import type { CaseEvent } from "./case/case-event.ts";
import { DAY, HOUR, MINUTE } from "./time/span.ts";
import { ann, ben, cleo, P1, T } from "./notify/people.fixture.ts";
import type { TellPath, TellPerson } from "./notify/recipients.ts";
import { SIGNS } from "./sign.ts";
import {
  type Happening,
  happen,
  newDesk,
  rounds,
  type SmallDesk,
  type Surroundings,
  waitUntil,
} from "./small-desk.fixture.ts";

const required = { value: 1e6, source: "IEC 62446-1", tag: "memory" } as const;

/** What can happen, as a function of now: ends of quiet times lie ahead of it. */
type At = (now: number) => Happening;

const alarmEvent: fc.Arbitrary<(now: number) => AlarmEvent> = fc.oneof(
  { weight: 5, arbitrary: fc.constant(() => ({ type: "set" }) as const) },
  { weight: 5, arbitrary: fc.constant(() => ({ type: "cleared" }) as const) },
  { weight: 1, arbitrary: fc.constant(() => ({ type: "acknowledge", by: "Ann Lee" }) as const) },
  {
    weight: 1,
    arbitrary: fc
      .tuple(
        fc.constantFrom("shelve" as const, "suppress" as const, "begin-maintenance" as const),
        fc.integer({ min: 1, max: 30 * 60 }),
      )
      .map(
        ([type, minutes]) =>
          (now: number): AlarmEvent => ({
            type,
            by: "Ann Lee",
            reason: "wet",
            untilAt: now + minutes * MINUTE,
            nextSunriseAt: now + 20 * HOUR,
          }),
      ),
  },
  {
    weight: 1,
    arbitrary: fc
      .constantFrom("unshelve" as const, "unsuppress" as const, "end-maintenance" as const)
      .map((type) => () => ({ type, by: "Ann Lee" })),
  },
);

const caseEvent: fc.Arbitrary<CaseEvent> = fc.constantFrom<CaseEvent>(
  { type: "sign-cause", by: "Ben Roe", cause: "water", repairedAt: null },
  { type: "measure-insulation", by: "Ben Roe", ohms: 4e6, required },
  { type: "tell-owner", by: "Ann Lee", document: null },
  { type: "close", by: "Ann Lee" },
);

const happening: fc.Arbitrary<At> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc
      .tuple(
        fc.constantFrom("insulation-low" as const, "residual-trip" as const, "dawn-recurring" as const),
        alarmEvent,
      )
      .map(
        ([sign, event]): At =>
          (now) => ({ to: "alarm", sign, event: event(now) }),
      ),
  },
  {
    weight: 3,
    arbitrary: caseEvent.map(
      (event): At =>
        () => ({ to: "case", event }),
    ),
  },
  { weight: 1, arbitrary: fc.constant<At>(() => ({ to: "all", by: "Ann Lee" })) },
);

const pauseMs = fc.oneof(
  fc.constantFrom(0, 1, 1000, 20_000, MINUTE, 10 * MINUTE, HOUR, 6 * HOUR, 25 * HOUR),
  fc.integer({ min: 0, max: 3 * HOUR }),
);

const story = fc.array(fc.tuple(pauseMs, happening), { maxLength: 12 });

const someone = (person: TellPerson): fc.Arbitrary<TellPerson> =>
  fc.constantFrom<TellPerson>(
    person,
    person,
    { ...person, away: [{ from: "2026-06-01", to: "2026-06-03" }] },
    { ...person, broken: { sinceAt: T, reason: "mailbox full" } },
    { ...person, until: "2026-06-02" },
  );

const surroundings: fc.Arbitrary<Surroundings> = fc.record({
  people: fc.tuple(someone(ann), someone(ben), someone(cleo)),
  path: fc.constantFrom<TellPath>(
    P1,
    { ...P1, repeatEveryMin: 15 },
    { ...P1, until: ["acknowledged"] },
    { ...P1, until: ["cleared"] },
    { ...P1, ladder: [] },
  ),
});

interface Told {
  /** Called at every look and after every happening. */
  readonly seen?: (desk: SmallDesk) => void;
  /** Called at the end of every pause, before anything happens then. */
  readonly between?: (desk: SmallDesk) => void;
}

function play(
  steps: readonly (readonly [number, At])[],
  around: Surroundings,
  { seen, between }: Told = {},
  from = newDesk(T),
): SmallDesk {
  return steps.reduce((desk, [pause, what]) => {
    const now = desk.now + pause;
    const rested = waitUntil(desk, now, around, seen);
    between?.(rested);
    const after = happen(rested, what(now), around);
    seen?.(after);
    return after;
  }, from);
}

/** Each run plays hours to days look by look, which takes milliseconds. */
const RUNS = { numRuns: 60 };
const LONG_RUNS = { numRuns: 25 };
const TIMEOUT = { timeout: 60_000 };

describe("whatever happens", TIMEOUT, () => {
  it("an active fault is told within its interval, or its silence has a name and an end", () => {
    fc.assert(
      fc.property(story, surroundings, (steps, around) => {
        play(steps, around, {
          seen: (desk) => {
            const active = desk.alarms.filter(
              ({ sign, condition }) => SIGNS[sign].faultPresent && condition === "active",
            );
            if (active.length === 0) return;
            const decisions = rounds(desk, around)[0]!.decisions.map(({ decision }) => decision);
            expect(decisions).toHaveLength(around.path.ladder!.length + 2);
            for (const decision of decisions) {
              // What was due has been sent, so everybody is held by something now, and it ends.
              if (decision.tell) throw new Error(`still to tell: ${decision.reason.text}`);
              const { because, by, untilAt } = decision.hold;
              expect(untilAt).toBeGreaterThan(desk.now);
              expect(["nothing-to-tell", "settling", "not-on-the-path"]).not.toContain(because);
              if (["shelved", "out-of-service", "suppressed-by-design", "acknowledged"].includes(because))
                expect(by).toBe("Ann Lee");
              const answered = active.every(
                (alarm) => quietOf(alarm, desk.now) !== null || alarm.acknowledged !== null,
              );
              if (because === "interval" && !answered)
                expect(untilAt! - desk.now).toBeLessThanOrEqual((around.path.repeatEveryMin ?? 60) * MINUTE);
            }
          },
        });
      }),
      RUNS,
    );
  });

  it("nothing is due between the instants at which the desk looks", () => {
    fc.assert(
      fc.property(story, surroundings, (steps, around) => {
        play(steps, around, {
          between: (desk) => {
            const due = rounds(desk, around).flatMap(({ decisions }) =>
              decisions.filter(({ decision }) => decision.tell),
            );
            expect(due).toEqual([]);
          },
        });
      }),
      RUNS,
    );
  });

  it("no fault is lost: in the end somebody was told of it, or somebody answers for it by name", () => {
    fc.assert(
      fc.property(story, surroundings, (steps, around) => {
        const end = play(steps, around);
        // Every quiet time is over by then.
        const later = waitUntil(end, end.now + 8 * DAY, around);
        for (const alarm of later.alarms) {
          const heard = later.deliveries.some(({ told }) =>
            told.some((one) => one.alarm === alarm.id && one.occurrence === alarm.occurrence),
          );
          expect(alarm.occurrence === 0 || heard || alarm.acknowledged !== null).toBe(true);
        }
      }),
      LONG_RUNS,
    );
  });

  it("a fault that is there, or that nobody has signed, is in an open case", () => {
    fc.assert(
      fc.property(story, surroundings, (steps, around) => {
        play(steps, around, {
          seen: ({ alarms, open }) => {
            for (const { id, sign, condition, latched } of alarms) {
              if (latched || (SIGNS[sign].faultPresent && condition === "active"))
                expect(open?.alarms).toContain(id);
            }
          },
        });
      }),
      RUNS,
    );
  });

  it("a case's timeline only grows, and says when each of its alarms came and who acknowledged", () => {
    fc.assert(
      fc.property(story, surroundings, (steps, around) => {
        let before = newDesk(T).open;
        const end = play(steps, around, {
          seen: ({ open }) => {
            if (open !== null && open.id === before?.id)
              expect(open.timeline.slice(0, before.timeline.length)).toEqual(before.timeline);
            before = open;
          },
        });
        for (const { id, sign, acknowledged } of end.alarms) {
          if (!end.open?.alarms.includes(id)) continue;
          const texts = end.open.timeline.map(({ text }) => text.toLowerCase());
          expect(texts).toContain(`sign: ${SIGNS[sign].title}.`.toLowerCase());
          if (acknowledged !== null && acknowledged.at > end.open.openedAt)
            expect(
              texts.some(
                (text) =>
                  text.includes(SIGNS[sign].title.toLowerCase()) &&
                  text.includes(acknowledged.by.toLowerCase()),
              ),
            ).toBe(true);
        }
      }),
      RUNS,
    );
  });

  it("every message has a key of its own, and nobody gets more than ten in an hour", () => {
    fc.assert(
      fc.property(story, surroundings, (steps, around) => {
        const { deliveries } = play(steps, around);
        const keys = deliveries.map(({ matter, path, person, kind, sequence }) =>
          JSON.stringify([matter, path, person, kind, sequence]),
        );
        expect(new Set(keys).size).toBe(keys.length);
        for (const { person, matter, at } of deliveries) {
          const hour = deliveries.filter(
            (one) => one.person === person && one.matter === matter && one.at >= at && one.at < at + HOUR,
          );
          expect(hour.length).toBeLessThanOrEqual(10);
        }
      }),
      RUNS,
    );
  });

  it("a desk restored from JSON at every step does the same", () => {
    fc.assert(
      fc.property(story, surroundings, (steps, around) => {
        const straight = play(steps, around);
        let restored = newDesk(T);
        for (const one of steps)
          restored = JSON.parse(JSON.stringify(play([one], around, {}, restored))) as SmallDesk;
        expect(restored).toEqual(straight);
      }),
      RUNS,
    );
  });
});

describe("an alarm that comes and goes all day", TIMEOUT, () => {
  it.each([1, 15, 60, 300, 29 * 60, 31 * 60, 3600])(
    "every %i s sends nobody more than five messages in an hour, and is told",
    (everyS) => {
      const around: Surroundings = { path: P1, people: [ann, ben, cleo] };
      const count = Math.min(80, (12 * 3600) / everyS);
      const flapping = Array.from({ length: count }, (_, n): readonly [number, At] => [
        everyS * 1000,
        () => ({ to: "alarm", sign: "insulation-low", event: { type: n % 2 === 0 ? "set" : "cleared" } }),
      ]);
      const end = play(flapping, around);
      const { deliveries } = waitUntil(end, end.now + 2 * HOUR, around);
      expect(deliveries.filter(({ person }) => person === "ann").length).toBeGreaterThan(0);
      for (const { person, at } of deliveries) {
        const hour = deliveries.filter((one) => one.person === person && one.at >= at && one.at < at + HOUR);
        expect(hour.length).toBeLessThanOrEqual(5);
      }
    },
  );
});

describe("an acknowledgement of everything", TIMEOUT, () => {
  it("keeps everybody from being told again for 24 h, but for the clearing", () => {
    const answers: Surroundings = { path: P1, people: [ann, ben, cleo] };
    fc.assert(
      fc.property(story, fc.integer({ min: 0, max: 24 * HOUR - 1 }), (steps, afterMs) => {
        const before = play([...steps, [HOUR, () => ({ to: "all", by: "Ann Lee" })]], answers);
        const after = waitUntil(before, before.now + afterMs, answers);
        const since = after.deliveries.slice(before.deliveries.length);
        // Time alone may clear an alarm that chattered, never bring one; the weekly word on what is unsigned stays.
        const repeats = since.filter(({ kind, at }) => kind !== "cleared" && !isReminder(after, at));
        expect(repeats).toEqual([]);
      }),
      RUNS,
    );
  });

  /** A cleared, unsigned case is brought to mind a week after its last message. */
  function isReminder({ deliveries, open }: SmallDesk, at: number): boolean {
    const earlier = deliveries.filter((one) => one.matter === open?.id && one.at < at);
    const lastAt = Math.max(...earlier.map((one) => one.at));
    return open?.presentAlarms.length === 0 && at - lastAt >= 7 * DAY;
  }
});
