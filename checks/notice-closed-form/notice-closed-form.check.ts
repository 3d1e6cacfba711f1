import { type NoticeModel, timeToNotice } from "@earthbell/engine";
import { describe, expect, it } from "vitest";

const ALWAYS = [{ fromMinute: 0, toMinute: 10_080 }];
/** Six in the morning of every day, one minute. */
const DAILY_MINUTE = Array.from({ length: 7 }, (_, day) => ({
  fromMinute: day * 1440 + 360,
  toMinute: day * 1440 + 361,
}));

/** Anytime onset, light round the clock at the start of a day of 24 h, nothing that fails. */
const plain: NoticeModel = {
  timezone: "UTC",
  yearFrom: "2025-01-01",
  onset: { dawnWetShare: 0, daylightShare: 0, dewBeforeSunriseMin: 180, dewAfterSunriseMin: 60 },
  detector: { atStart: true, continuous: false, residualShare: 0, startAfterSunriseMin: 0 },
  links: [{ id: "net", availability: 1, meanOutageMin: 60 }],
  readers: [],
  channels: [],
  siteEmpty: { share: 0, lengthMin: 0 },
  unaware: 0,
};

/** In a polar day with a continuous check a fault is detected when it is born, so the signal is seen alone. */
const atOnce: NoticeModel = {
  ...plain,
  latitudeDeg: 89.9,
  longitudeDeg: 0,
  yearFrom: "2025-01-01",
  detector: { ...plain.detector, continuous: true },
};

const message = (readers: readonly string[], never = 0): NoticeModel["channels"][number] => ({
  signal: "message",
  id: `m ${readers.join()}`,
  link: "net",
  readers,
  repeatMin: 1,
  supervisedMin: null,
  checkAfterSilenceMin: 0,
  neverHeeds: never,
});

const reader = (id: string, perHour: number, hours = ALWAYS): NoticeModel["readers"][number] => ({
  id,
  hours,
  looksPerMinute: perHour / 60,
  away: [],
});

describe("a fault at a random time, found at the daily start, read at once", () => {
  const model = { ...plain, readers: [reader("a", 6000)], channels: [message(["a"])] };
  const [answer] = timeToNotice(model, { everyDays: 1 });

  it("waits 12 h on average and at the median", () => {
    expect(answer!.meanHours).toBeCloseTo(12, 1);
    expect(answer!.medianHours).toBeCloseTo(12, 1);
  });

  it("is found within 21.6 h in 90 % and 22.8 h in 95 % of cases", () => {
    const at = (hours: number): number => answer!.curve.find((point) => point.hours === hours)!.unnoticed;
    // 21.6 h lies between two points of the curve: 0.4 of the way from 22 h back to 21 h.
    expect(0.6 * at(22) + 0.4 * at(21)).toBeCloseTo(0.1, 2);
    expect(answer!.p95Hours).toBeCloseTo(22.8, 1);
  });
});

/** Midsummer month at the pole, so that detection is at onset; the survival is then that of the signal alone. */
function signalAlone(more: Partial<NoticeModel>): (hours: number) => number {
  const model = { ...atOnce, ...more, latitudeDeg: 89.9 };
  // The share of the year without sun is undetected for longer than 28 days or until the sun returns; take it out.
  const summer = timeToNotice({ ...model, siteEmpty: { share: 0, lengthMin: 0 } }, { everyDays: 1 })[0]!;
  const instant = timeToNotice(
    { ...model, links: plain.links, readers: [reader("instant", 1e6)], channels: [message(["instant"])] },
    { everyDays: 1 },
  )[0]!;
  const at = (answer: typeof summer, hours: number): number =>
    answer.curve.find((point) => Math.abs(point.hours - hours) < 1e-9)!.unnoticed;
  // Dark share d is still undetected at these lags: S = d + (1 − d)·signal, and the instant reader gives d.
  return (hours) => (at(summer, hours) - at(instant, hours)) / (1 - at(instant, hours));
}

const LAGS = [1, 2, 6, 12, 24];

describe("signals alone", () => {
  it("a memoryless reader: exp(−λt)", () => {
    const survival = signalAlone({ readers: [reader("a", 0.2)], channels: [message(["a"])] });
    for (const hours of LAGS) expect(Math.abs(survival(hours) - Math.exp(-0.2 * hours))).toBeLessThan(0.004);
  });

  it("two independent readers: rates add", () => {
    const survival = signalAlone({
      readers: [reader("a", 0.1), reader("b", 0.15)],
      channels: [message(["a", "b"])],
    });
    for (const hours of LAGS) expect(Math.abs(survival(hours) - Math.exp(-0.25 * hours))).toBeLessThan(0.004);
  });

  it("a reader who never heeds in one of four cases", () => {
    const survival = signalAlone({ readers: [reader("a", 0.2)], channels: [message(["a"], 0.25)] });
    for (const hours of LAGS)
      expect(Math.abs(survival(hours) - (0.25 + 0.75 * Math.exp(-0.2 * hours)))).toBeLessThan(0.004);
  });

  it("a look a day at a fixed minute: an evenly spread wait", () => {
    const survival = signalAlone({ readers: [reader("a", 6000, DAILY_MINUTE)], channels: [message(["a"])] });
    for (const hours of [1, 2, 6, 12])
      expect(Math.abs(survival(hours) - (1 - hours / 24))).toBeLessThan(0.006);
  });

  it("a link up with probability 0.7, outages of mean 10 h, tried every minute", () => {
    const links = [{ id: "net", availability: 0.7, meanOutageMin: 600 }];
    const survival = signalAlone({ links, readers: [reader("a", 1e5)], channels: [message(["a"])] });
    for (const hours of LAGS)
      expect(Math.abs(survival(hours) - 0.3 * Math.exp(-hours / 10))).toBeLessThan(0.012);
  });
});
