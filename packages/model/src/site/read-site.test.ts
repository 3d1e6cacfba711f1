import { describe, expect, test } from "vitest";
import { SITE_YAML } from "../fixtures/site-file.ts";
import { malformed } from "../fixtures/malformed.ts";
import { MALFORMED_SITES } from "../fixtures/malformed-site.ts";
import { readSite } from "./read-site.ts";

describe("readSite", () => {
  test.each(MALFORMED_SITES)("points at $title with $code", (row) => {
    const { text, code, line, column, field, says = "" } = malformed(SITE_YAML, row);
    const result = readSite(text, "skerry.yaml");
    if (result.ok) throw new Error("It was read without a fault");
    const [fault, ...again] = result.faults.filter((found) => found.field === field);
    expect(again).toEqual([]);
    expect(fault, JSON.stringify(result.faults)).toMatchObject({ code, file: "skerry.yaml", line, column });
    expect(`${fault!.message} ${fault!.allowed}`).toContain(says);
  });

  test.each([
    ["earthFaultInterrupter: {rating: 500 mA}", { rating: 0.5 }],
    // There is one, and its rating was not read.
    ["earthFaultInterrupter: {}", {}],
  ])("reads %s", (written, read) => {
    const text = SITE_YAML.replace(
      "    residualMonitor: true\n",
      `    residualMonitor: true\n    ${written}\n`,
    );
    const result = readSite(text, "skerry.yaml");
    if (!result.ok) throw new Error(JSON.stringify(result.faults));
    expect(result.record.inverters[0]!.earthFaultInterrupter).toEqual(read);
  });

  test("refuses the rating of an interrupter without a unit", () => {
    const text = SITE_YAML.replace(
      "    residualMonitor: true\n",
      "    residualMonitor: true\n    earthFaultInterrupter: {rating: 1}\n",
    );
    const result = readSite(text, "skerry.yaml");
    expect(result.ok ? [] : result.faults).toMatchObject([
      { field: "inverters[0].earthFaultInterrupter.rating", code: expect.stringMatching(/UNIT/u) as string },
    ]);
  });

  test("reads a site with every kind of field into base units", () => {
    const result = readSite(SITE_YAML, "skerry.yaml");
    if (!result.ok) throw new Error(JSON.stringify(result.faults));
    const { record } = result;
    expect(record.place).toEqual({
      country: "NZ",
      region: "STL",
      timezone: "Pacific/Auckland",
      latitudeDeg: -46.6,
      longitudeDeg: 168.3,
    });
    expect(record.modules.map((module) => module.vocTemperatureCoefficient)).toEqual([
      { kind: "relative", perKelvin: -0.0028 },
      { kind: "absolute", voltsPerKelvin: -0.24 },
    ]);
    expect(record.inverters[0]).toMatchObject({
      ratedPower: 12_500,
      insulationCheck: { threshold: 45_000, at: ["start", "continuous"] },
      relay: { dcRating: { voltage: 30, current: 2 }, operatesOn: "earth-fault" },
    });
    expect(record.paths[0]).toMatchObject({
      repeatEvery: 45,
      link: { availability: 0.97, meanOutage: 360, supervisedEvery: 1440 },
    });
    expect(record.paths[1]).toMatchObject({
      loop: { cable: { area: 2.5, class: 5, length: 85 }, load: { current: 0.25, level: 104 }, fuse: 2 },
      listener: { barriers: [15, 8] },
    });
    expect(record.inverters[0]!.where!.light).toEqual({
      luminance: 2000,
      diameter: 0.005,
      colour: "amber",
      background: "overcast-or-indoors",
    });
    expect(record.paths[3]).toMatchObject({
      loop: { load: { light: { intensity: 20, flashesPerMinute: 90, flashLength: 0.005 } } },
      listener: { distance: 30, barriers: [] },
    });
    expect(record.assumptions).toEqual({ hardFaults: 0.25 });
    expect(record.people[1]).toMatchObject({
      away: [{ from: "2026-12-24", to: "2027-01-03" }],
      until: "2031-05-31",
    });
    expect(record.proofs[0]).toEqual({
      path: "P1",
      kind: "drill",
      on: "2026-03-11",
      by: "desk",
      acknowledgedAfter: 22,
    });
  });
});
