import { describe, expect, it } from "vitest";
import type { Inverter, ModuleType, PvArray, Site } from "../assess/site.ts";
import { noticeFromSite } from "../notice/from-site.ts";
import { runningShare } from "./running-share.ts";

const module = { id: "M", pmax: 260, voc: 40, isc: 9 } as ModuleType;
const inverter = {
  id: "I",
  ratedPower: 5000,
  separation: "none",
  insulationCheck: { threshold: 30_000, at: ["start"] },
  residualMonitor: true,
} as unknown as Inverter;
const array = {
  id: "A",
  inverter: "I",
  module: "M",
  earthing: "floating",
  strings: [{ id: "S", modules: 10 }],
} as PvArray;
const without = (...fields: readonly (keyof Inverter)[]): Inverter =>
  Object.fromEntries(
    Object.entries(inverter).filter(([field]) => !fields.includes(field as keyof Inverter)),
  ) as unknown as Inverter;

describe("running share", () => {
  // By hand: at x modules from the middle 300 mA flow up to x · 32.8 V / 0.3 A, which is 11, 11, 11, 10 and 9 of the
  // map's resistances for x = 5 to 1 on either side, 104 cells; the check sees up to 24 kΩ, 18 of them at each of 11 places.
  it("of a residual-current monitor is that of the faults which the check sees at all", () => {
    expect(runningShare({ array, module, inverter })).toBeCloseTo(104 / 198, 10);
  });

  it("is of all the map where the limit of the check is not known", () => {
    const unknown = without("insulationCheck");
    expect(runningShare({ array, module, inverter: unknown })).toBeCloseTo(104 / 231, 10);
  });

  it.each<[string, PvArray, Inverter]>([
    ["no monitor is stated", array, without("residualMonitor")],
    ["a transformer separates the array", array, { ...inverter, separation: "simple" }],
    ["the earthing is not known", { ...array, earthing: undefined } as unknown as PvArray, inverter],
    ["electronics stand in the strings", array, { ...inverter, kind: "dc-dc" }],
  ])("is none where %s", (_, one, watched) => {
    expect(runningShare({ array: one, module, inverter: watched })).toBe(0);
  });
});

describe("the detector of a notice", () => {
  const interrupted = {
    ...without("insulationCheck", "residualMonitor"),
    separation: "simple",
    earthFaultInterrupter: { rating: 1 },
  } as unknown as Inverter;
  const siteWith = (earthing: string, watched: Inverter): Site =>
    ({
      id: "s",
      place: { country: "US" },
      modules: [module],
      inverters: [watched],
      arrays: [{ ...array, earthing }],
      people: [],
      paths: [{ id: "P", arrays: ["A"], signal: "indicator" }],
      proofs: [],
    }) as unknown as Site;
  const detectorOf = (site: Site) => noticeFromSite(site, { paths: site.paths });

  it("is the interrupter where no check is stated: its blind spot is never noticed", () => {
    const { model, assumed } = detectorOf(siteWith("functional", interrupted));
    expect(model.detector.atStart).toBe(false);
    expect(model.detector.residualShare).toBeGreaterThan(0);
    expect(model.detector.residualShare).toBeLessThan(1);
    expect(assumed.join()).not.toMatch(/checked at start only/u);
    expect(assumed.join()).toMatch(/seen at once while the inverter runs/u);
  });

  it("is a check at start, as assumed, where neither is stated", () => {
    const { model, assumed } = detectorOf(
      siteWith("floating", without("insulationCheck", "residualMonitor")),
    );
    expect(model.detector).toMatchObject({ atStart: true, continuous: false, residualShare: 0 });
    expect(assumed.join()).toMatch(/checked at start only/u);
  });
});
