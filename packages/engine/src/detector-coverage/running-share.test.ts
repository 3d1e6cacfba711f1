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
  // By hand: at x modules from the middle 300 mA flow up to x · 32.8 V / 0.3 A, which is 11, 11, 11, 10 and 9 of the map's
  // resistances for x = 5 to 1 on either side, 104 cells, all hard; there are 12 hard resistances at each of 11 places.
  it("of a short string is that of the hard faults far enough from the middle", () => {
    expect(runningShare({ array, module, inverter, hardShare: 0.1 })).toBeCloseTo((0.1 * 104) / 132, 10);
    expect(runningShare({ array, module, inverter, hardShare: 1 })).toBeCloseTo(104 / 132, 10);
    expect(runningShare({ array, module, inverter, hardShare: 0 })).toBe(0);
  });

  // By hand, 30 modules: 9, 10, 11, 11, 11 hard cells for x = 1 to 5 and 12 for 6 to 15, both sides, 344 of 372; of 1 kΩ and
  // more one resistance, 1 kΩ itself, from x = 10 on: 12 places. The check sees up to 24 kΩ, 6 such at each of 31 places.
  const long = { ...array, strings: [{ id: "S", modules: 30 }] };

  it("of the softer faults is that of those which the check sees at all", () => {
    const share = runningShare({ array: long, module, inverter, hardShare: 0.1 });
    expect(share).toBeCloseTo((0.1 * 344) / 372 + (0.9 * 12) / 186, 10);
  });

  it("is of all the map where the limit of the check is not known", () => {
    const unknown = without("insulationCheck");
    const share = runningShare({ array: long, module, inverter: unknown, hardShare: 0.1 });
    expect(share).toBeCloseTo((0.1 * 344) / 372 + (0.9 * 12) / 279, 10);
  });

  it.each<[string, PvArray, Inverter]>([
    ["no monitor is stated", array, without("residualMonitor")],
    ["a transformer separates the array", array, { ...inverter, separation: "simple" }],
    ["the earthing is not known", { ...array, earthing: undefined } as unknown as PvArray, inverter],
    ["electronics stand in the strings", array, { ...inverter, kind: "dc-dc" }],
  ])("is none where %s", (_, one, watched) => {
    expect(runningShare({ array: one, module, inverter: watched, hardShare: 1 })).toBe(0);
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

  it("counts hard faults by the cautious default, shown, unless the site file states their share", () => {
    const stated = { ...siteWith("floating", inverter), assumptions: { hardFaults: 0.4 } } as unknown as Site;
    const [byDefault, asStated] = [siteWith("floating", inverter), stated].map(detectorOf);
    expect(byDefault!.model.detector.residualShare).toBeCloseTo((0.1 * 104) / 132, 10);
    expect(byDefault!.assumed.join()).toMatch(/10 % of faults are below 1 kΩ when they appear/u);
    expect(asStated!.model.detector.residualShare).toBeCloseTo((0.4 * 104) / 132, 10);
    expect(asStated!.assumed.join()).not.toMatch(/when they appear/u);
  });

  it("is a check at start, as assumed, where neither is stated", () => {
    const { model, assumed } = detectorOf(
      siteWith("floating", without("insulationCheck", "residualMonitor")),
    );
    expect(model.detector).toMatchObject({ atStart: true, continuous: false, residualShare: 0 });
    expect(assumed.join()).toMatch(/checked at start only/u);
  });
});
