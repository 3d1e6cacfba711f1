import { describe, expect, it } from "vitest";
import { WATCH_LIMITS } from "../limits.ts";
import { DAY, HOUR, MINUTE } from "../time/span.ts";
import type { SunOfDay } from "../time/sunrise.ts";
import { daysLater, instantOf } from "../time/zone.ts";
import { bit, insulation, takeAll, TARN, words } from "./array.fixture.ts";
import { detectHour } from "./detect-hour.ts";
import { detectReading } from "./detect-reading.ts";
import { type ArrayLimits, forgetMornings, newDetectorState } from "./detector-state.ts";
import { type DailyMinimum, medianDrift } from "./drift.ts";

/** A local date and minute of the wall clock at the array. */
const on = (date: string, minute: number, zone = TARN.zone): number => instantOf(date, minute, zone);
const SEVEN = 7 * 60;

/** A fault that begins at some minute of each date and clears two hours later. */
function faultsOn(dates: readonly string[], minute = SEVEN, limits: ArrayLimits = TARN) {
  const readings = dates.flatMap((date) => {
    const began = on(date, minute, limits.zone);
    return [bit(began, true), bit(began + 2 * HOUR, false)];
  });
  return takeAll(readings, limits);
}

function dawnSigns(result: ReturnType<typeof faultsOn>): readonly string[] {
  return result.signs.flatMap(words).filter((word) => word.endsWith("dawn-recurring"));
}

describe("a fault that comes back by dawn", () => {
  it.each<[string, string[], number, string[]]>([
    ["on 2 mornings is not", ["2026-06-01", "2026-06-02"], SEVEN, []],
    ["on 3 mornings in a row is", ["2026-06-01", "2026-06-02", "2026-06-03"], SEVEN, ["set dawn-recurring"]],
    [
      "on the 1st, 4th and 7th of seven days is",
      ["2026-06-01", "2026-06-04", "2026-06-07"],
      SEVEN,
      ["set dawn-recurring"],
    ],
    ["on the 1st, 4th and 8th is not", ["2026-06-01", "2026-06-04", "2026-06-08"], SEVEN, []],
    ["at 11:59 is a morning's", ["2026-06-01", "2026-06-02", "2026-06-03"], 719, ["set dawn-recurring"]],
    ["at noon is not", ["2026-06-01", "2026-06-02", "2026-06-03"], 720, []],
  ])("%s", (_, dates, minute, expected) => {
    expect(dawnSigns(faultsOn(dates, minute))).toEqual(expected);
  });

  it("counts three times on one morning as one morning", () => {
    const thrice = [0, 30, 60].flatMap((minute) => [
      bit(on("2026-06-01", SEVEN + minute), true),
      bit(on("2026-06-01", SEVEN + minute + 10), false),
    ]);
    expect(takeAll(thrice).state.faultMornings).toEqual(["2026-06-01"]);
  });

  it("does not mistake a hard fault that stays for one that comes back", () => {
    const days = [0, 1, 2, 3, 4].map((day) => bit(on("2026-06-01", SEVEN) + day * DAY, true));
    expect(takeAll(days).state.faultMornings).toEqual(["2026-06-01"]);
  });

  it("goes by the morning of the site, not by that of UTC", () => {
    // 20:00 UTC in June is 06:00 of the next day in Melbourne.
    const dates = ["2026-06-01", "2026-06-02", "2026-06-03"];
    const began = dates.map((date) => Date.parse(`${date}T20:00Z`));
    const result = takeAll(began.flatMap((at) => [bit(at, true), bit(at + HOUR, false)]));
    expect(result.state.faultMornings).toEqual(["2026-06-02", "2026-06-03", "2026-06-04"]);
    expect(dawnSigns(result)).toEqual(["set dawn-recurring"]);
  });

  it.each([
    ["Europe/Berlin", ["2026-03-28", "2026-03-29", "2026-03-30"], "over the night that loses an hour"],
    ["Europe/Berlin", ["2026-10-24", "2026-10-25", "2026-10-26"], "over the night that gains one"],
    [
      "Australia/Lord_Howe",
      ["2026-04-04", "2026-04-05", "2026-04-06"],
      "over a night that gains half an hour",
    ],
    ["Europe/Berlin", ["2028-02-28", "2028-02-29", "2028-03-01"], "over a leap day"],
  ])("in %s on %j is found %s", (zone, dates) => {
    const result = faultsOn(dates, SEVEN, { ...TARN, zone });
    expect(result.state.faultMornings).toEqual(dates);
    expect(dawnSigns(result)).toEqual(["set dawn-recurring"]);
  });

  it("ends when the mornings fall out of the week, and at once when a cause is signed", () => {
    const { state } = faultsOn(["2026-06-01", "2026-06-02", "2026-06-03"]);
    const ask = (date: string, of = state) =>
      words(detectHour(of, TARN, on(date, 60), { kind: "unknown" }).signs).filter((word) =>
        word.includes("dawn"),
      );
    expect(ask("2026-06-07")).toEqual([]);
    expect(ask("2026-06-08")).toEqual(["cleared dawn-recurring"]);
    expect(ask("2026-06-03", forgetMornings(state))).toEqual(["cleared dawn-recurring"]);
  });

  it("is not undone by a reading that comes days late", () => {
    const { state } = faultsOn(["2026-06-01", "2026-06-02", "2026-06-03"]);
    const late = detectReading(state, insulation(on("2026-05-20", SEVEN), 1e6), TARN);
    expect(late.state.daySigns["dawn-recurring"]).toBe(true);
  });
});

describe("a detector that is stuck", () => {
  const dates = Array.from({ length: 9 }, (_, day) => daysLater("2026-06-01", day));
  const checks = (values: readonly number[]) =>
    values.map((ohms, day) => insulation(on(dates[day]!, SEVEN), ohms));
  const stuck = (values: readonly number[]) =>
    takeAll(checks(values)).signs.map((signs) =>
      words(signs)
        .filter((word) => word.endsWith("detector-stuck"))
        .join(""),
    );

  it.each<[string, number[], string[]]>([
    ["the same on 4 days is not", [8e5, 8e5, 8e5, 8e5], ["", "", "", ""]],
    ["the same on 5 days is", [8e5, 8e5, 8e5, 8e5, 8e5], ["", "", "", "", "set detector-stuck"]],
    ["a digit off on one day is not", [8e5, 8e5, 800_001, 8e5, 8e5], ["", "", "", "", ""]],
    [
      "a new value ends it",
      [8e5, 8e5, 8e5, 8e5, 8e5, 7e5],
      ["", "", "", "", "set detector-stuck", "cleared detector-stuck"],
    ],
    [
      "at the ceiling of the instrument it is censored, not stuck",
      [2e7, 2e7, 2e7, 2e7, 2e7],
      ["", "", "", "", ""],
    ],
    [
      "just below the ceiling it is",
      [19_999_999, 19_999_999, 19_999_999, 19_999_999, 19_999_999],
      ["", "", "", "", "set detector-stuck"],
    ],
  ])("%s", (_, values, expected) => {
    expect(stuck(values)).toEqual(expected);
  });

  it("is not, where the value moves within the day", () => {
    const readings = dates
      .slice(0, 5)
      .flatMap((date) => [insulation(on(date, SEVEN), 8e5), insulation(on(date, SEVEN + 60), 9e5)]);
    expect(takeAll(readings).state.daySigns["detector-stuck"]).toBe(false);
  });

  it("is found beside a second device that is sound", () => {
    const readings = dates
      .slice(0, 5)
      .flatMap((date, day) => [
        insulation(on(date, SEVEN), 8e5, "INV1"),
        insulation(on(date, SEVEN), 9e5 + day, "INV2"),
      ]);
    expect(takeAll(readings).state.daySigns["detector-stuck"]).toBe(true);
  });
});

describe("a detector that is silent", () => {
  const date = "2026-06-01";
  const sunrise: SunOfDay = { kind: "up", at: on(date, SEVEN + 30) };
  const fresh = newDetectorState("tarn", "A1");
  const ask = (minute: number, sun: SunOfDay, state = fresh, limits = TARN) =>
    words(detectHour(state, limits, on(date, 0) + minute * MINUTE, sun).signs);

  it.each<[string, number, SunOfDay, string[]]>([
    ["a minute before noon is in time", 719, sunrise, []],
    ["at noon without a check is silent", 720, sunrise, ["set detector-silent"]],
    ["sunrise at 09:30: waits three hours from it", 749, { kind: "up", at: on(date, 570) }, []],
    ["and is silent from 12:30 on", 750, { kind: "up", at: on(date, 570) }, ["set detector-silent"]],
    ["a day without sun asks for no check", 720, { kind: "down-all-day" }, []],
    ["where the sun is not known, noon decides", 720, { kind: "unknown" }, ["set detector-silent"]],
  ])("%s", (_, minute, sun, expected) => {
    expect(ask(minute, sun)).toEqual(expected);
  });

  it("is none where the check came, where none is expected, and where yesterday's was the last it is", () => {
    const checked = takeAll([insulation(on(date, SEVEN), 1e6)]).state;
    expect(ask(720, sunrise, checked)).toEqual([]);
    expect(ask(720, sunrise, fresh, { ...TARN, morningChecks: [] })).toEqual([]);
    const yesterday = takeAll([insulation(on("2026-05-31", SEVEN), 1e6)]).state;
    expect(ask(720, sunrise, yesterday)).toEqual(["set detector-silent"]);
  });

  it("does not take a stale reading, nor one of another device, for a check", () => {
    const stale = takeAll([{ ...insulation(on(date, SEVEN), 1e6), quality: "stale" }]).state;
    expect(ask(720, sunrise, stale)).toEqual(["set detector-silent"]);
    const other = takeAll([insulation(on(date, SEVEN), 1e6, "INV2")]).state;
    expect(ask(720, sunrise, other)).toEqual(["set detector-silent"]);
  });

  it("stays silent over midnight, is heard by the next good check, and not by one of the day before", () => {
    const missed = detectHour(fresh, TARN, on(date, 720), sunrise).state;
    const night = detectHour(missed, TARN, on("2026-06-02", 60), { kind: "unknown" });
    expect(words(night.signs)).toEqual([]);
    const old = detectReading(night.state, insulation(on("2026-05-31", SEVEN), 1e6), TARN);
    expect(words(old.signs)).toEqual([]);
    const heard = detectReading(old.state, insulation(on("2026-06-02", SEVEN), 1e6), TARN);
    expect(words(heard.signs)).toEqual(["cleared detector-silent"]);
  });

  it.each([
    ["2026-03-28", "2026-03-29T10:00:00Z", "the morning that is an hour short"],
    ["2026-10-24", "2026-10-25T11:00:00Z", "the morning that is an hour long"],
    ["2028-02-28", "2028-02-29T11:00:00Z", "a leap day"],
  ])("after noon of %s it looks again at %s: noon of %s", (day, next) => {
    const berlin = { ...TARN, zone: "Europe/Berlin" };
    const { nextLookAt } = detectHour(fresh, berlin, on(day, 721, "Europe/Berlin"), { kind: "unknown" });
    expect(new Date(nextLookAt).toISOString()).toBe(next.replace("Z", ".000Z"));
  });
});

describe("insulation that drifts down", () => {
  const minima = (earlier: readonly number[], recent: readonly number[], atLeast = false): DailyMinimum[] =>
    [...earlier, ...recent].map((ohms, day) => ({
      date: daysLater("2026-06-01", day),
      ohms,
      atLeast: atLeast && day < earlier.length,
    }));
  const days = (length: number, ohms: number) => Array.from({ length }, () => ohms);

  it.each<[string, DailyMinimum[], boolean | "cannot-tell"]>([
    ["to just under a third", minima(days(21, 3e6), days(7, 999_999)), true],
    ["to exactly a third is not", minima(days(21, 3e6), days(7, 1e6)), false],
    ["on 3 wet days of 7 is weather", minima(days(21, 3e6), [3e6, 1e5, 3e6, 1e5, 3e6, 1e5, 3e6]), false],
    ["on 4 of 7", minima(days(21, 3e6), [1e5, 1e5, 3e6, 1e5, 3e6, 1e5, 3e6]), true],
    ["from the ceiling: the true fall is no smaller", minima(days(21, 2e7), days(7, 5e6), true), true],
    ["of 13 earlier days cannot be told", minima(days(13, 3e6), days(7, 1e5)), "cannot-tell"],
    ["of no days at all cannot be told", [], "cannot-tell"],
  ])("%s", (_, of, drifting) => {
    expect(medianDrift(of, WATCH_LIMITS).drifting).toBe(drifting);
  });

  it("is not judged from recent values at the ceiling", () => {
    const ceiling = minima(days(21, 9e7), days(7, 2e7)).map((one, day) => ({ ...one, atLeast: day >= 21 }));
    expect(medianDrift(ceiling, WATCH_LIMITS).drifting).toBe(false);
  });

  it("gives way to another rule", () => {
    const always = () => ({ drifting: true, reason: { text: "always", figures: {}, limits: [] } });
    const { signs } = detectReading(
      newDetectorState("tarn", "A1"),
      insulation(on("2026-06-01", SEVEN), 1e6),
      TARN,
      always,
    );
    expect(words(signs)).toEqual(["set insulation-drifting"]);
  });
});
