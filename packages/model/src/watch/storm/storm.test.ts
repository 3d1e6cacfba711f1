import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { MINUTE } from "../time/span.ts";
import { type PendingMessage, planMessages } from "./plan-messages.ts";
import { groupAlarms, isFlood, type StormAlarm } from "./storm-group.ts";

const T = Date.UTC(2026, 5, 1, 5, 12);
let count = 0;

function alarm(site: string, change: Partial<StormAlarm> = {}): StormAlarm {
  count += 1;
  return {
    id: `alarm ${String(count)}`,
    site,
    sign: "path-silent",
    at: T,
    gateway: null,
    region: null,
    ...change,
  };
}

const sitesNamed = (length: number, change: Partial<StormAlarm> = {}): StormAlarm[] =>
  Array.from({ length }, (_, n) => alarm(`site ${String(n).padStart(4, "0")}`, change));

// More than 10 alarms in 10 minutes: IEC 62682 / ISA-18.2 measures (memory).
describe("a flood", () => {
  const times = (length: number): number[] => Array.from({ length }, (_, n) => T - n * 1000);
  it.each([
    [times(10), false, "10 in ten minutes are none"],
    [times(11), true, "11 are one"],
    [[...times(10), T - 10 * MINUTE], true, "the window's first instant counts"],
    [[...times(10), T - 10 * MINUTE - 1], false, "what is before it does not"],
    [[...times(10), T + 1], false, "nor what is still to come"],
  ])("case %#: %s", (startedAt, flood) => {
    expect(isFlood(startedAt, T)).toBe(flood);
  });
});

describe("groups", () => {
  it.each<[string, StormAlarm[], object[]]>([
    [
      "many alarms of one site are one group",
      [alarm("a"), alarm("a"), alarm("a")],
      [{ kind: "site", site: "a" }],
    ],
    [
      "three sites behind one gateway are one group",
      sitesNamed(3, { gateway: "G7" }),
      [{ kind: "gateway", gateway: "G7" }],
    ],
    [
      "two are not, and an hour apart nothing joins them",
      [alarm("a", { gateway: "G7" }), alarm("b", { gateway: "G7", at: T + 60 * MINUTE })],
      [
        { kind: "site", site: "a" },
        { kind: "site", site: "b" },
      ],
    ],
    [
      "three of a region within a minute are one",
      sitesNamed(3, { region: "Skerry" }),
      [{ kind: "region-and-minute", region: "Skerry", minuteAt: T }],
    ],
    ["three within a minute are one, wherever they are", sitesNamed(3), [{ kind: "minute", minuteAt: T }]],
    [
      "a gateway tells more than a region",
      sitesNamed(3, { region: "Skerry", gateway: "G7" }),
      [{ kind: "gateway", gateway: "G7" }],
    ],
    [
      "a site goes by its first alarm, as a whole",
      [...sitesNamed(3, { gateway: "G7" }), alarm("site 0000", { gateway: "G8", at: T + 1 })],
      [{ kind: "gateway", gateway: "G7" }],
    ],
  ])("%s", (_, alarms, causes) => {
    expect(groupAlarms(alarms).map(({ cause }) => cause)).toEqual(causes);
  });
});

const someAlarms = fc
  .array(
    fc.record({
      site: fc.integer({ min: 0, max: 40 }).map((n) => `site ${String(n)}`),
      at: fc.integer({ min: 0, max: 10 * MINUTE }).map((ms) => T + ms),
      gateway: fc.constantFrom(null, "G1", "G2", "G3"),
      region: fc.constantFrom(null, "Skerry", "Holm"),
      sign: fc.constantFrom("path-silent" as const, "insulation-low" as const, "detector-silent" as const),
    }),
    { maxLength: 120 },
  )
  .map((rows) => rows.map((row, n): StormAlarm => ({ ...row, id: `alarm ${String(n).padStart(3, "0")}` })));

const somePending = fc
  .tuple(someAlarms, fc.array(fc.constantFrom("ann", "ben", "cleo"), { minLength: 120, maxLength: 120 }))
  .map(([alarms, people]) =>
    alarms.map(
      (one, n): PendingMessage => ({
        person: people[n]!,
        site: one.site,
        key: `key ${one.id}`,
        alarms: [one],
      }),
    ),
  );

describe("nothing is lost in a storm", () => {
  it("every alarm is in exactly one group, and its site in exactly one", () => {
    fc.assert(
      fc.property(someAlarms, (alarms) => {
        const groups = groupAlarms(alarms);
        expect(groups.flatMap((group) => group.alarms.map(({ id }) => id)).sort()).toEqual(
          alarms.map(({ id }) => id),
        );
        const sites = groups.flatMap((group) => group.sites);
        expect(sites.toSorted()).toEqual([...new Set(alarms.map(({ site }) => site))].sort());
      }),
    );
  });

  it("everybody is told of every site and every decided message, in ten messages at most", () => {
    fc.assert(
      fc.property(somePending, (pending) => {
        const planned = planMessages(pending);
        expect(planned.flatMap(({ covers }) => covers).sort()).toEqual(pending.map(({ key }) => key).sort());
        for (const person of ["ann", "ben", "cleo"]) {
          const own = planned.filter((message) => message.person === person);
          expect(own.length).toBeLessThanOrEqual(10);
          const wanted = new Set(pending.filter((one) => one.person === person).map(({ site }) => site));
          expect(new Set(own.flatMap(({ sites }) => sites))).toEqual(wanted);
          for (const { sites, lines } of own) {
            expect(lines).toHaveLength(sites.length);
            sites.forEach((site, n) => {
              expect(lines[n]!.startsWith(`${site}: `)).toBe(true);
            });
          }
        }
      }),
    );
  });

  it("no message mixes earth faults with silent paths, and earth faults come first", () => {
    fc.assert(
      fc.property(somePending, (pending) => {
        const fault = new Set(
          pending.filter(({ alarms }) => alarms[0].sign === "insulation-low").map(({ key }) => key),
        );
        for (const person of ["ann", "ben", "cleo"]) {
          const kinds = planMessages(pending)
            .filter((message) => message.person === person)
            .map(({ covers }) => new Set(covers.map((key) => fault.has(key))));
          expect(kinds.every((kind) => kind.size === 1)).toBe(true);
          const order = kinds.map((kind) => kind.has(true));
          expect(order).toEqual(order.toSorted((one, other) => Number(other) - Number(one)));
        }
      }),
    );
  });

  it("the order in which things arrive changes nothing", () => {
    fc.assert(
      fc.property(
        somePending.chain((pending) =>
          fc.tuple(fc.constant(pending), fc.shuffledSubarray(pending, { minLength: pending.length })),
        ),
        ([pending, shuffled]) => {
          expect(planMessages(shuffled)).toEqual(planMessages(pending));
        },
      ),
    );
  });
});

describe("messages", () => {
  const pendingOf = (alarms: readonly StormAlarm[], person = "ann"): PendingMessage[] =>
    alarms.map((one) => ({ person, site: one.site, key: one.id, alarms: [one] }));

  it.each([
    [10, 10, "ten go out one by one"],
    [11, 1, "eleven of one minute go out as one"],
  ])("%i decided, %i sent: %s", (decided, sent) => {
    expect(planMessages(pendingOf(sitesNamed(decided)))).toHaveLength(sent);
  });

  it("tell of 2,000 sites behind one gateway, and of the one earth fault among them first", () => {
    const silent = pendingOf(sitesNamed(2000, { gateway: "G7" }));
    const fault = pendingOf([alarm("site 0007", { sign: "insulation-low" })]);
    const planned = planMessages([...silent, ...fault]);
    expect(planned.map(({ heading }) => heading)).toEqual([
      "site 0007",
      "2000 sites behind gateway G7, which may be the common cause",
    ]);
    expect(planned[1]!.lines).toHaveLength(2000);
    expect(planned[0]!.lines).toEqual(["site 0007: insulation below its threshold"]);
  });

  it("keep ten groups apart where there is room for ten", () => {
    const hourly = Array.from({ length: 10 }, (_, n) =>
      alarm(`site ${String(n)}`, { at: T + n * 60 * MINUTE }),
    );
    const planned = planMessages(pendingOf([...hourly, alarm("site 0", { at: T + 1 })]));
    expect(planned.map(({ heading }) => heading).sort()).toEqual(hourly.map(({ site }) => site).sort());
  });

  it("put what has nothing in common together only beyond the tenth", () => {
    const hourly = Array.from({ length: 40 }, (_, n) =>
      alarm(`site ${String(n)}`, { at: T + n * 60 * MINUTE }),
    );
    const planned = planMessages(pendingOf(hourly));
    expect(planned).toHaveLength(10);
    expect(planned.at(-1)!.heading).toBe("31 sites with nothing in common that is known");
  });
});
