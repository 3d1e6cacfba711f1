import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { WeeklyHours } from "../assess/site.ts";
import { dailyHours } from "./assumptions.ts";
import { delayCauses } from "./delay-causes.ts";
import type { MessageChannel, NoticeModel, NoticeReader } from "./notice-model.ts";
import { singleChanges } from "./single-changes.ts";
import type { NoticeAnswer } from "./notice-answer.ts";
import { timesToNotice, timeToNotice } from "./time-to-notice.ts";

const message: MessageChannel = {
  signal: "message",
  id: "m",
  link: "net",
  readers: ["a"],
  repeatMin: 60,
  supervisedMin: null,
  checkAfterSilenceMin: 1440,
  neverHeeds: 0.05,
};

const office: NoticeReader = { id: "a", hours: dailyHours(9, 17, 5), looksPerMinute: 1 / 60, away: [] };

const dairy: NoticeModel = {
  latitudeDeg: -37.1,
  longitudeDeg: 143.9,
  timezone: "Australia/Melbourne",
  yearFrom: "2026-01-01",
  onset: { dawnWetShare: 0.4, daylightShare: 0.3, dewBeforeSunriseMin: 180, dewAfterSunriseMin: 60 },
  detector: { atStart: true, continuous: false, residualShare: 0, startAfterSunriseMin: 20 },
  links: [{ id: "net", availability: 0.97, meanOutageMin: 600 }],
  readers: [office],
  channels: [message],
  siteEmpty: { share: 0.04, lengthMin: 10_080 },
  unaware: 0.1,
};

const together = (model: NoticeModel, everyDays = 24): NoticeAnswer =>
  timeToNotice(model, { everyDays, combinations: [model.channels.map(({ id }) => id)] })[0]!;

const hoursOfWeek: fc.Arbitrary<WeeklyHours> = fc
  .array(
    fc.tuple(fc.integer({ min: 0, max: 6 }), fc.integer({ min: 0, max: 22 }), fc.integer({ min: 1, max: 8 })),
    {
      maxLength: 5,
    },
  )
  .map((spans) =>
    spans
      .map(([day, hour, length]) => ({
        fromMinute: day * 1440 + hour * 60,
        toMinute: Math.min(day * 1440 + (hour + length) * 60, 10_080),
      }))
      .sort((a, b) => a.fromMinute - b.fromMinute),
  );

const zone = fc.constantFrom(
  "Australia/Melbourne",
  "Europe/Oslo",
  "Pacific/Chatham",
  "America/St_Johns",
  "UTC",
);

const anyReader = (id: string): fc.Arbitrary<NoticeReader> =>
  fc.record({
    id: fc.constant(id),
    hours: hoursOfWeek,
    looksPerMinute: fc.double({ min: 0, max: 2, noNaN: true }),
    timezone: zone,
    away: fc.constantFrom([], [{ from: "2026-04-01", to: "2026-05-02" }]),
  });

const anyMessage = (id: string, readers: readonly string[], link: string): fc.Arbitrary<MessageChannel> =>
  fc.record({
    signal: fc.constant("message" as const),
    id: fc.constant(id),
    link: fc.constant(link),
    readers: fc.subarray([...readers]),
    repeatMin: fc.constantFrom(null, 7, 60, 1440),
    supervisedMin: fc.constantFrom(null, 30, 1440),
    checkAfterSilenceMin: fc.constantFrom(0, 1440),
    neverHeeds: fc.constantFrom(0, 0.05, 0.24, 1),
  });

const anyModel: fc.Arbitrary<NoticeModel> = fc
  .record({
    latitudeDeg: fc.constantFrom(-89.9, -78, -37, 0, 51, 68, 71),
    longitudeDeg: fc.integer({ min: -180, max: 180 }),
    timezone: zone,
    readers: fc.tuple(anyReader("a"), anyReader("b"), anyReader("c")),
    first: anyMessage("m", ["a", "b"], "net"),
    second: anyMessage("n", ["b", "c"], "radio"),
    availability: fc.constantFrom(0, 0.5, 0.97, 1),
    atStart: fc.boolean(),
    residualShare: fc.constantFrom(0, 0.5, 1),
    siteHours: hoursOfWeek,
  })
  .map(({ first, second, availability, atStart, residualShare, siteHours, ...more }) => ({
    ...dairy,
    ...more,
    detector: { ...dairy.detector, atStart, residualShare },
    links: [
      { id: "net", availability, meanOutageMin: 900 },
      { id: "radio", availability: 0.8, meanOutageMin: 200 },
    ],
    channels: [
      first,
      second,
      { signal: "indicator" as const, id: "l", hours: siteHours, noticesPerMinute: 0.01, dead: 0.02 },
    ],
  }));

/** Everywhere at or below, within rounding. */
function expectNoLater(after: NoticeAnswer, before: NoticeAnswer): void {
  after.curve.forEach(({ unnoticed }, k) => {
    expect(unnoticed).toBeLessThanOrEqual(before.curve[k]!.unnoticed + 1e-9);
  });
}

const few = { numRuns: 25 };

describe("time to notice", () => {
  it("gives falling probabilities between 0 and 1 at any place, with any hours and links", () => {
    fc.assert(
      fc.property(anyModel, (model) => {
        const { curve, unnoticedAfter24h, unnoticedAfter7d } = together(model, 45);
        let last = 1;
        for (const { unnoticed } of curve) {
          expect(unnoticed).toBeGreaterThanOrEqual(0);
          expect(unnoticed).toBeLessThanOrEqual(last + 1e-9);
          last = unnoticed;
        }
        expect(unnoticedAfter7d).toBeLessThanOrEqual(unnoticedAfter24h);
      }),
      few,
    );
  });

  it("never takes longer with one channel more", () => {
    fc.assert(
      fc.property(anyModel, (model) => {
        const [one, two, three] = timeToNotice(model, {
          everyDays: 45,
          combinations: [["m"], ["m", "n"], ["m", "n", "l"]],
        });
        expectNoLater(two!, one!);
        expectNoLater(three!, two!);
      }),
      few,
    );
  });

  it("is the same for a model by itself as beside others that share its detector", () => {
    fc.assert(
      fc.property(anyModel, anyModel, (model, other) => {
        const beside = { ...model, readers: other.readers, channels: other.channels, links: other.links };
        const combinations = [["m"], ["m", "n", "l"]];
        const both = timesToNotice(
          [model, beside].map((one) => ({ model: one, combinations })),
          { everyDays: 30 },
        );
        for (const [i, one] of [model, beside].entries())
          expect(both[i]).toEqual(timeToNotice(one, { combinations, everyDays: 30 }));
      }),
      few,
    );
  });

  it("never takes longer with one recipient more on a message", () => {
    fc.assert(
      fc.property(anyModel, fc.constantFrom("a", "b", "c"), (model, added) => {
        const more = model.channels.map((channel) =>
          channel.signal === "message" && !channel.readers.includes(added)
            ? { ...channel, readers: [...channel.readers, added] }
            : channel,
        );
        expectNoLater(together({ ...model, channels: more }, 45), together(model, 45));
      }),
      few,
    );
  });

  it("never takes longer when a link or a detector is watched", () => {
    fc.assert(
      fc.property(anyModel, (model) => {
        const watched = model.channels.map((channel) =>
          channel.signal === "message"
            ? { ...channel, supervisedMin: Math.min(channel.supervisedMin ?? Infinity, 60) }
            : channel,
        );
        expectNoLater(together({ ...model, channels: watched }, 45), together(model, 45));
      }),
      few,
    );
  });

  it.each<readonly [string, Partial<NoticeModel>]>([
    ["reading hours are empty", { readers: [{ ...office, hours: [] }] }],
    ["nobody looks", { readers: [{ ...office, looksPerMinute: 0 }] }],
    [
      "the link is never up and nobody notices",
      { links: [{ id: "net", availability: 0, meanOutageMin: 60 }] },
    ],
    ["nothing detects", { detector: { ...dairy.detector, atStart: false } }],
    ["there is no channel", { channels: [] }],
    ["the reader never heeds", { channels: [{ ...message, neverHeeds: 1 }] }],
  ])("nobody ever notices when %s", (_, spoiled) => {
    const answer = together({ ...dairy, ...spoiled });
    expect(answer.medianHours).toBeNull();
    expect(answer.p95Hours).toBeNull();
    expect(answer.unnoticedAfter28d).toBeCloseTo(1, 9);
    expect(answer.meanHours).toBeCloseTo(28 * 24, 6);
  });

  it("says never, and no hour that rounding makes, where exactly 5 % never heed and 95 % are asked for", () => {
    for (const looksPerMinute of [0.01, 0.1, 1, 60]) {
      const { p95Hours, medianHours } = together({ ...dairy, readers: [{ ...office, looksPerMinute }] });
      expect(p95Hours).toBeNull();
      expect(medianHours).not.toBeNull();
    }
  });

  it("waits for the sun in a polar night, and finds no start in a polar day", () => {
    const north = { ...dairy, latitudeDeg: 70.7, longitudeDeg: 23.7, timezone: "Europe/Oslo" };
    const start = together(north, 4);
    const continuous = together({ ...north, detector: { ...dairy.detector, continuous: true } }, 4);
    // About two months without sunrise and two without sunset: a start check is idle for a third of the year.
    expect(start.unnoticedAfter7d).toBeGreaterThan(0.2);
    expect(continuous.unnoticedAfter7d).toBeLessThan(start.unnoticedAfter7d - 0.1);
  });

  it("reads by the clock of the recipient's own zone", () => {
    const at = (timezone: string): number =>
      together({ ...dairy, readers: [{ ...office, looksPerMinute: 1, timezone }] }).unnoticedAfter24h;
    expect(at("Australia/Sydney")).toBeCloseTo(at("Australia/Melbourne"), 6);
    expect(Math.abs(at("America/New_York") - at("Australia/Melbourne"))).toBeGreaterThan(0.02);
  });

  it("takes an unknown zone as the sun's own time", () => {
    // 143.9° E is 9 h 36 min before UTC: near the zone of UTC+10 all the year, but not the same.
    const nowhere = together({ ...dairy, timezone: "Nowhere/Land" });
    const near = together({ ...dairy, timezone: "Etc/GMT-10" });
    expect(Math.abs(nowhere.meanHours - near.meanHours)).toBeLessThan(0.5);
    expect(nowhere.meanHours).not.toBe(near.meanHours);
  });
});

describe("what delays the news", () => {
  it("names waiting for the start check as the largest cause of a reader who is always there", () => {
    const keen = { ...office, hours: dailyHours(0, 24), looksPerMinute: 1 };
    const [[first] = []] = delayCauses(
      { ...dairy, readers: [keen], channels: [{ ...message, neverHeeds: 0 }] },
      { everyDays: 24 },
    );
    expect(first!.cause).toBe("detection");
  });

  it("names the link when it is mostly down", () => {
    const links = [{ id: "net", availability: 0.1, meanOutageMin: 20_000 }];
    expect(delayCauses({ ...dairy, links }, { everyDays: 24 })[0]![0]!.cause).toBe("link");
  });
});

describe("single changes", () => {
  it("are ranked by the hours they gain, and each gains some", () => {
    const changes = singleChanges(dairy, { everyDays: 24 });
    expect(changes.length).toBeGreaterThan(3);
    const gains = changes.map(({ gainedHours }) => gainedHours);
    expect(gains).toEqual([...gains].sort((a, b) => b - a));
    for (const { before, after } of changes) expectNoLater(after, before);
  });

  it("put supervision first where the link is dead", () => {
    const links = [{ id: "net", availability: 0, meanOutageMin: 60 }];
    const kinds = singleChanges({ ...dairy, links }, { everyDays: 24 }).map(({ kind }) => kind);
    expect(kinds).not.toContain("add-recipient");
    expect(kinds.slice(0, 3)).toContain("supervise-link");
  });
});
