import { describe, expect, it } from "vitest";
import type { Site } from "../assess/site.ts";
import { coverageReport } from "./coverage-report.ts";

const base = {
  id: "loom",
  place: { country: "AU", region: "VIC" },
  lowestTemperature: 0,
  modules: [{ id: "M", technology: "crystalline-silicon", pmax: 260, voc: 40, isc: 9, area: 1.6 }],
  inverters: [
    {
      id: "I",
      ratedPower: 5000,
      separation: "none",
      insulationCheck: { threshold: 30_000, at: ["start"] },
      residualMonitor: true,
    },
  ],
  arrays: [
    {
      id: "A1",
      inverter: "I",
      module: "M",
      installed: "2016-05-01",
      earthing: "floating",
      strings: [{ id: "S1", modules: 10 }],
    },
  ],
  people: [],
  paths: [],
  proofs: [],
};

function coverageOf(array: object = {}, inverter: object = {}, module: object = {}) {
  const site = {
    ...base,
    modules: [{ ...base.modules[0], ...module }],
    inverters: [{ ...base.inverters[0], ...inverter }],
    arrays: [{ ...base.arrays[0], ...array }],
  } as unknown as Site;
  return coverageReport(site).arrays[0]!;
}

describe("siteCoverage", () => {
  it("maps a fault of 10 kΩ as seen at the next start and one of 1 Ω at an end as seen at once", () => {
    const { map } = coverageOf();
    const at = (ohms: number): number => map!.faultOhms.findIndex((one) => Math.abs(one / ohms - 1) < 1e-9);
    expect(map!.cells.running[5]![at(10_000)]!.soon).toBe("next-start");
    expect(map!.cells.running[0]![at(1)]).toEqual({ soon: "at-once", by: ["residual"] });
    // 100 kΩ is above the 30 kΩ at which the check looks.
    expect(map!.cells.night[0]![at(100_000)]!.soon).toBe("never");
  });

  it("by hand: 10 modules of 1.6 m² show at least 40 MΩ·m² / 16 m² = 2.5 MΩ", () => {
    expect(coverageOf().healthy!.floorOhms).toBeCloseTo(2.5e6, 3);
  });

  it("takes a detector that is not stated for absent and names it as missing", () => {
    const { map, missing } = coverageOf({}, { insulationCheck: undefined, residualMonitor: undefined });
    expect(map!.shares.night.never).toBe(1);
    expect(missing).toEqual(["inverters I: insulationCheck", "inverters I: residualMonitor"]);
  });

  it("of an earthed array is blind on the earthed conductor, and needs the short-circuit current", () => {
    const earthed = { earthing: "functional" };
    const inverter = { earthFaultInterrupter: { rating: 1 }, insulationCheck: { at: [] } };
    expect(coverageOf(earthed, inverter).map!.blindPositions).toContain(0);
    const without = coverageOf(earthed, inverter, { isc: undefined });
    expect([without.map, without.missing]).toEqual([null, ["modules M: isc"]]);
  });

  it("maps nothing for strings with electronics in them and says so", () => {
    const { map, missing } = coverageOf({}, { kind: "dc-dc" });
    expect(map).toBeNull();
    expect(missing.join()).toMatch(/electronics/u);
  });
});
