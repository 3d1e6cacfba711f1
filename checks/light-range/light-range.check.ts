import { type Candela, lightReach, type Light, sightDistance } from "@earthbell/engine";
import { describe, expect, it } from "vitest";

const NAUTICAL_MILE_M = 1852;
/** Part of the light that ten nautical miles of the tables' air let through: the definition of visibility. */
const THROUGH_TEN_MILES = 0.05;

const throughAir = (candela: number, miles: number): Candela =>
  (candela * THROUGH_TEN_MILES ** (miles / 10)) as Candela;

const NIGHT = [
  [1, 0.9],
  [2, 5],
  [3, 15],
  [4, 36],
  [5, 77],
  [10, 1400],
] as const;
const DAY = [
  [1, 4600],
  [2, 25_000],
  [3, 76_000],
] as const;

describe("the nominal range of a marine light, its haze taken out", () => {
  it.each(NIGHT)("is %i nautical miles by night for %f cd", (miles, candela) => {
    const found = sightDistance(throughAir(candela, miles), "night");
    expect(Math.abs(found / (miles * NAUTICAL_MILE_M) - 1)).toBeLessThan(0.03);
  });

  it.each(DAY)("is %i nautical miles by day for %f cd", (miles, candela) => {
    const found = sightDistance(throughAir(candela, miles), "bright-day");
    expect(Math.abs(found / (miles * NAUTICAL_MILE_M) - 1)).toBeLessThan(0.03);
  });
});

describe("from how far a light of a site is found, by hand", () => {
  const cases: readonly (readonly [string, object, number, number])[] = [
    ["10 cd steady by bright day", { intensity: 10 }, 100, 100],
    ["a face of 5000 cd/m² and 20 mm: 1.571 cd", { luminance: 5000, diameter: 0.02 }, 39.63, 39.63],
    [
      "10 cd in flashes of 0.2 s: half",
      { intensity: 10, flashesPerMinute: 30, flashLength: 0.2 / 60 },
      70.71,
      70.71,
    ],
    [
      "10 cd in flashes of unknown length, 0.05 s assumed: a fifth",
      { intensity: 10, flashesPerMinute: 30 },
      44.72,
      44.72,
    ],
    ["10 cd indoors, 0.1 mlx", { intensity: 10, background: "overcast-or-indoors" }, 316.2, 316.2],
    ["10 cd red by bright day: to an eye blind to red a tenth", { intensity: 10, colour: "red" }, 100, 31.62],
  ];
  it.each(cases)("%s", (_, light, metres, toRedBlind) => {
    const reach = lightReach(light)!;
    expect(reach.metres).toBeCloseTo(metres, 1);
    expect(reach.toRedBlindMetres).toBeCloseTo(toRedBlind, 1);
  });

  it("is not known where only the luminance is", () => {
    expect(lightReach({ luminance: 5000 } as unknown as Light)).toBeNull();
  });
});
