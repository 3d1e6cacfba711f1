import { type NoticeModel, timeToNotice } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import simulated from "./cases.json" with { type: "json" };

const { faults, lagsHours } = simulated;
const curves = simulated.cases.reduce((sum, { answers }) => sum + answers.length, 0);
const error99 = Math.sqrt(Math.log((2 * curves) / 0.01) / (2 * faults));

describe(`time to notice against ${faults} simulated faults a site, seed ${simulated.seed}`, () => {
  it("is asked for twenty sites", () => {
    expect(simulated.cases).toHaveLength(20);
  });

  it.each(simulated.cases.map((one) => [one.site, one] as const))("%s", (_, { model, answers }) => {
    const computed = timeToNotice(model as NoticeModel, { everyDays: 1 });
    expect(computed.map(({ channels }) => channels)).toEqual(answers.map(({ channels }) => channels));
    answers.forEach(({ unnoticed }, a) => {
      const { curve } = computed[a]!;
      lagsHours.forEach((hours, i) => {
        const here = curve.find((point) => Math.abs(point.hours - hours) < 1e-9)!;
        expect(Math.abs(here.unnoticed - unnoticed[i]!)).toBeLessThanOrEqual(error99);
      });
    });
  });

  it("half the days of the year say the same within 0.002 more", () => {
    for (const { model, answers } of simulated.cases) {
      const computed = timeToNotice(model as NoticeModel);
      answers.forEach(({ unnoticed }, a) => {
        const { unnoticedAfter24h } = computed[a]!;
        expect(Math.abs(unnoticedAfter24h - unnoticed[lagsHours.indexOf(24)]!)).toBeLessThanOrEqual(
          error99 + 0.002,
        );
      });
    }
  });
});
