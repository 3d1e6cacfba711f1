import { describe, expect, it } from "vitest";
import type { AnnunciatorPath, Site } from "../assess/site.ts";
import { siteNotice } from "./site-notice.ts";
import { annunciator, indicator, message, tarn } from "./tarn.fixture.ts";

const closely = { everyDays: 24 };

describe("siteNotice", () => {
  it("answers for each path and for all, and all together are no later than any", () => {
    const { answers } = siteNotice(tarn, { onDate: "2026-06-01" }, closely);
    expect(answers.map(({ channels }) => channels)).toEqual([["P1"], ["P2"], ["P3"], ["P1", "P2", "P3"]]);
    const together = answers.at(-1)!;
    for (const { unnoticedAfter24h, meanHours } of answers) {
      expect(together.unnoticedAfter24h).toBeLessThanOrEqual(unnoticedAfter24h);
      expect(together.meanHours).toBeLessThanOrEqual(meanHours);
    }
  });

  it("counts a sounder that nobody hears for nothing", () => {
    const faint = { ...annunciator, listener: { ...annunciator.listener, distance: 300 } } as AnnunciatorPath;
    const { notPerceived, answers } = siteNotice({ ...tarn, paths: [message, faint] }, {}, closely);
    expect(notPerceived).toEqual(["P2"]);
    expect(answers[2]!.meanHours).toBeCloseTo(answers[0]!.meanHours, 9);
  });

  it("names what it assumed, what delays most and what to change first", () => {
    const { assumed, causes, changes } = siteNotice({ ...tarn, paths: [indicator] }, {}, closely);
    expect(assumed.join()).toMatch(/half of the passes/);
    expect(causes[0]![0]!.hours).toBeGreaterThan(0);
    expect(changes[0]!.gainedHours).toBeGreaterThan(0);
    expect(changes.map(({ kind }) => kind)).toContain("add-annunciator");
    expect(changes.map(({ kind }) => kind)).toContain("add-beacon");
  });

  it("counts a beacon where it is seen, later than a sounder, and for nothing behind a wall or too far away", () => {
    const lit = (distance: number, barriers: readonly number[]): AnnunciatorPath => {
      const load = { ...annunciator.loop?.load, kind: "beacon", light: { intensity: 10 } };
      const listener = { ...annunciator.listener, distance, barriers };
      return { ...annunciator, loop: { ...annunciator.loop, load }, listener } as unknown as AnnunciatorPath;
    };
    const answered = (path: AnnunciatorPath) => siteNotice({ ...tarn, paths: [path] }, {}, closely);
    const seen = answered(lit(99, []));
    expect(seen.notPerceived).toEqual([]);
    expect(seen.assumed.join()).toMatch(/notices it twice an hour/);
    expect(seen.answers[0]!.meanHours).toBeGreaterThan(answered(annunciator).answers[0]!.meanHours);
    for (const unseen of [lit(101, []), lit(30, [20])]) expect(answered(unseen).notPerceived).toEqual(["P2"]);
  });

  it("finds the inverter's own light farther away where it is brighter, and nearer where it is not stated", () => {
    const at = (where: object): readonly string[] => {
      const inverters = tarn.inverters.map((one) => ({ ...one, where: { ...one.where, ...where } }));
      return siteNotice({ ...tarn, inverters, paths: [indicator] }, {}, closely).notPerceived;
    };
    // By hand: √(0.1 cd / 1 mlx) = 10 m, √(0.4 cd / 1 mlx) = 20 m, √(0.01 cd / 0.1 mlx) = 10 m.
    expect(at({ viewingDistance: 15 })).toEqual(["P3"]);
    expect(at({ viewingDistance: 15, light: { intensity: 0.4 } })).toEqual([]);
    expect(
      at({ viewingDistance: 11, light: { intensity: 0.01, background: "overcast-or-indoors" } }),
    ).toEqual(["P3"]);
    expect(at({ viewingDistance: 9, light: { intensity: 0.01, background: "overcast-or-indoors" } })).toEqual(
      [],
    );
  });

  it("reads nothing into the absences of a site for which no date is given", () => {
    const people = tarn.people.map((person) => ({
      ...person,
      away: [{ from: "2026-06-01", to: "2027-06-01" }],
    }));
    const gone: Site = { ...tarn, people, paths: [message] };
    expect(siteNotice(gone, {}, closely).answers[0]!.unnoticedAfter7d).toBeLessThan(0.05);
    expect(siteNotice(gone, { onDate: "2026-06-01" }, closely).answers[0]!.unnoticedAfter7d).toBeGreaterThan(
      0.9,
    );
  });
});
