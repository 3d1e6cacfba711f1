import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  BLUNDERS,
  drawTruth,
  firstRequests,
  measure,
  measureWithBlunder,
  seededRandom,
} from "../simulate/index.ts";
import { fitOf } from "./fit.ts";
import { benchOf } from "./instruments.ts";
import { locate } from "./locate.ts";
import { problemOf } from "./problem.ts";
import { exactVisit, noisyVisit, stringWith, visitTo, volts } from "./simulated-visit.fixture.ts";
import type { Reading, Visit } from "./visit.ts";

const SCENARIO = stringWith([{ string: "S1", at: 5, ohms: 40e3 }]);
const fit = (visit: Visit) => fitOf(problemOf(visit, benchOf(visit)));
const HONEST = exactVisit(SCENARIO).readings;
/** The honest five readings with one of them changed. */
function withReading(index: number, change: (reading: Reading) => Partial<Reading>): Visit {
  const readings = HONEST.map((reading, i) =>
    i === index ? ({ ...reading, ...change(reading) } as Reading) : reading,
  );
  return { ...exactVisit(SCENARIO), readings };
}
const times = (factor: number) => (reading: Reading) =>
  ({ value: reading.value * factor }) as unknown as Partial<Reading>;

describe("whether readings can be true together", () => {
  it("honest readings of any string are, in at least 199 of 200 draws", () => {
    const random = seededRandom(12);
    let inconsistent = 0;
    for (let i = 0; i < 200; i++) {
      const ohms = 10 * 1.6e5 ** random.uniform();
      const at = Math.floor(61 * random.uniform()) / 3;
      inconsistent += Number(!fit(noisyVisit(stringWith([{ string: "S1", at, ohms }]), random)).consistent);
    }
    expect(inconsistent).toBeLessThanOrEqual(1);
  });

  it.each([
    [
      "the positive pole touched for the negative",
      2,
      () => ({ value: HONEST[1]!.value }),
      "READING_LEADS_SWAPPED",
    ],
    [
      "a shunted reading taken on the other pole",
      3,
      () => ({ value: HONEST[4]!.value }),
      "READING_LEADS_SWAPPED",
    ],
    ["millivolts written as volts", 1, times(1000), "READING_PREFIX_WRONG"],
    ["volts written as millivolts", 3, times(0.001), "READING_PREFIX_WRONG"],
    ["the decimal point one place to the left", 4, times(0.1), "READING_DIGIT_SHIFTED"],
    ["the meter on its a.c. range", 1, () => ({ value: 0.07 }), "READING_METER_ON_AC"],
    ["a cloud before the third reading", 3, times(0.75), "READING_LIGHT_CHANGED"],
    ["a reading that no usual slip gives", 3, times(3.3), "READING_SLIP_UNKNOWN"],
  ] as const)("sees %s and gives it its code", (_, index, change, code) => {
    const found = fit(withReading(index, change as (reading: Reading) => Partial<Reading>));
    expect(found.consistent).toBe(false);
    const suspect = found.suspects.find(({ reading }) => reading === index);
    expect(suspect?.code).toBe(code);
    expect(suspect?.settle).toContain(`reading ${String(index + 1)}`);
  });

  it("sees poles that exceed the whole even where nothing is left to compare with", () => {
    const found = fit(
      visitTo(20, [volts("+", "-", 800), volts("+", "earth", 500), volts("-", "earth", 400)]),
    );
    expect(found.consistent).toBe(false);
    expect(found.suspects.map(({ reading }) => reading).sort()).toEqual([0, 1, 2]);
  });

  it("does not mind poles that exceed the whole by less than their errors", () => {
    const found = fit(
      visitTo(20, [volts("+", "-", 800), volts("+", "earth", 502), volts("-", "earth", 300)]),
    );
    expect(found).toMatchObject({ consistent: true, suspects: [] });
  });

  it.each(BLUNDERS.filter((blunder) => blunder !== "still-in-parallel"))(
    "flags %s in at least 18 of 20 draws where it changed the reading by a twentieth and 2 V",
    (blunder) => {
      const random = seededRandom(77);
      let flagged = 0;
      for (let drawn = 0; drawn < 20; ) {
        const truth = drawTruth(stringWith([{ string: "S1", at: 14, ohms: 60e3 }]), random);
        const requests = firstRequests("S1");
        const honest = requests.map((request) => measure(truth, request, random));
        const index = 1 + Math.floor(4 * random.uniform());
        const slipped = measureWithBlunder(truth, requests[index]!, blunder, random);
        const before = honest[index]!.value as number;
        if (Math.abs(slipped.value - before) < 0.05 * before + 2) continue;
        drawn++;
        const readings = honest.map((reading, i) => (i === index ? slipped : reading));
        flagged += Number(!fit({ ...exactVisit(SCENARIO), readings }).consistent);
      }
      expect(flagged).toBeGreaterThanOrEqual(18);
    },
  );

  it("names no suspect where it finds no contradiction, and at least one where it does", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 4 }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (index, power) => {
          const found = fit(withReading(index, times(10 ** power)));
          expect(found.suspects.length > 0).toBe(!found.consistent);
        },
      ),
      { numRuns: 30 },
    );
  });
});

describe("a reading taken again", () => {
  const spoiled = withReading(1, times(0.8));

  it("outvotes the one it contradicts, and the finding says which was left out", () => {
    const again = { ...spoiled, readings: [...spoiled.readings, HONEST[1]!] };
    const finding = locate(again);
    expect(finding.verdict).not.toBe("inconsistent");
    expect(finding.places[0]).toMatchObject({ at: 5 });
    expect(finding.warnings.join()).toContain("reading 2 is left out");
  });

  it("changes nothing where both agree: no reading is left out", () => {
    const again = { ...exactVisit(SCENARIO), readings: [...HONEST, HONEST[1]!] };
    expect(locate(again).warnings.join()).not.toContain("left out");
  });

  it("leaves the finding inconsistent where both repeat the same mistake", () => {
    const again = { ...spoiled, readings: [...spoiled.readings, spoiled.readings[1]!] };
    expect(locate(again).verdict).toBe("inconsistent");
  });

  it("is what the plan of an inconsistent visit asks for, and nothing else", () => {
    const finding = locate(spoiled);
    expect(finding.verdict).toBe("inconsistent");
    expect(finding.next.length).toBeGreaterThan(0);
    for (const step of finding.next) expect(["read", "read-with-shunt"]).toContain(step.action);
    expect(finding.next.map((step) => step.readings[0])).toContainEqual(
      expect.objectContaining({ on: "S1", from: "+", to: "earth" }),
    );
  });
});
