import { describe, expect, it } from "vitest";
import type { VoltAmperes } from "../quantity/index.ts";
import type { RulePack } from "../rules/pack.ts";
import { PACK, SITE } from "../rules/skerry.fixture.ts";
import { rulesUsed } from "./rules-used.ts";
import type { Site } from "./site.ts";

const MESSAGE = {
  ...{ id: "P1", arrays: ["A1"], signal: "message", to: ["owner"], channel: "email", repeatEvery: 60 },
} as unknown as Site["paths"][number];
const TOLD: Site = { ...SITE, paths: [MESSAGE] };

const fields = (site: Site, pack: RulePack, asked?: "everything" | "limits" | "verdicts") =>
  rulesUsed(site, [pack], asked).map((one) => [one.pack.id, one.values.map(({ field }) => field)]);

/** The threshold in two rows, of which the array of 5.74 kW falls in the first. */
const TWO_ROWS: RulePack = {
  ...PACK,
  insulationThreshold: {
    rating: { value: "array-kilowatts", source: "table 1", tag: "memory" },
    rows: [
      { above: 0, atMost: 20, ohms: { value: 30_000, source: "table 1", tag: "memory" } },
      { above: 20, ohms: { value: 20_000, source: "table 1", tag: "memory" } },
    ],
  },
};

describe("the rule values that answers about a site rest on", () => {
  it("are of the pack that binds, and of its tables the row that the array falls in", () => {
    expect(fields(TOLD, TWO_ROWS)).toEqual([
      [
        "skerry-2020",
        [
          "duty[0].when[0].atMost",
          "alarm.leastAddresses",
          "insulationThreshold.rows[0].ohms",
          "residual[0].milliamps",
        ],
      ],
    ]);
  });

  it("are both rows where the sources disagree on which rating chooses", () => {
    const large = {
      ...TOLD,
      inverters: TOLD.inverters.map((one) => ({ ...one, ratedPower: 25_000 as VoltAmperes })),
    };
    expect(fields(large, TWO_ROWS)[0]?.[1]).toEqual(
      expect.arrayContaining(["insulationThreshold.rows[0].ohms", "insulationThreshold.rows[1].ohms"]),
    );
  });

  it("hold no number of a message where none is sent, and no limit that the array is relieved of", () => {
    const relieved = {
      ...SITE,
      arrays: SITE.arrays.map((one) => ({ ...one, earthing: "solid" as const })),
      inverters: SITE.inverters.map((one) => ({ ...one, separation: "simple" as const })),
    };
    expect(fields(relieved, TWO_ROWS)).toEqual([["skerry-2020", ["duty[0].when[0].atMost"]]]);
  });

  it("are those that were asked for", () => {
    expect(fields(TOLD, PACK, "limits")[0]?.[1]).toEqual([
      "insulationThreshold.rows[0].ohms",
      "residual[0].milliamps",
    ]);
    expect(fields(TOLD, PACK, "verdicts")[0]?.[1]).toEqual([
      "duty[0].when[0].atMost",
      "alarm.leastAddresses",
    ]);
  });

  it("of an altered array are of the editions of both works", () => {
    const { arrays } = SITE;
    const altered: Site = {
      ...SITE,
      place: { country: "AU", region: "VIC" },
      arrays: arrays.map((one) => ({ ...one, installed: "2013-05-01", altered: "2024-02-01" })),
    };
    const plain: Site = { ...altered, arrays: arrays.map((one) => ({ ...one, installed: "2024-02-01" })) };
    const packs = (site: Site) => rulesUsed(site, []).map(({ pack }) => pack.id);
    expect(packs(plain)).toEqual(["au-nz-5033-2021"]);
    expect(packs(altered)).toEqual(["au-nz-5033-2012", "au-nz-5033-2021"]);
  });

  it("are none where no pack is held for the place", () => {
    expect(rulesUsed({ ...SITE, place: { country: "ZZ" } }, [])).toEqual([]);
  });
});
