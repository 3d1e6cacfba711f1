import {
  chainHolds,
  decode,
  discover,
  imageOf,
  planReads,
  type DeviceReport,
  type RegisterAnswer,
  type RegisterRead,
} from "@earthbell/model";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { inventedSites } from "./invented-sites.ts";
import { LAYOUTS, type Layout, portsOf } from "./register-map.ts";
import { drawScenario, type FleetFault, type Lie, LIES, type Scenario } from "./scenario.ts";
import { SimulatedDevice } from "./simulated-device.ts";
import { startFleet } from "./start-fleet.ts";
import { weatherAt } from "./weather.ts";

const PLACE = { latitudeDeg: -42, longitudeDeg: 162 };
const HOUR = 3_600_000;
const DAY = 24 * HOUR;
/** Noon by the sun at 162 degrees east, on a day of southern summer. */
const NOON = Date.UTC(2026, 0, 15, 1, 12);
const MIDNIGHT = NOON + 12 * HOUR;
const NONE = { faults: 0, dropouts: 0, liars: 0 };
const SOUND: Scenario = { dryOhms: 5e6, wetShare: 0.4, fault: null, lie: null, drops: false, seed: 77 };

function simulated(layout: Layout, change: Partial<Scenario> = {}): SimulatedDevice {
  return new SimulatedDevice({
    layout,
    base: 40_000,
    serial: "R-1",
    scenario: { ...SOUND, ...change },
    place: PLACE,
    thresholdOhms: 30_000,
  });
}

function answerOf(device: SimulatedDevice, { address, count }: RegisterRead, at: number): RegisterAnswer {
  const answer = device.answer(address, count, at);
  if (answer.kind === "registers")
    return { ok: true, registers: [...answer.words.subarray(answer.from, answer.from + count)] };
  return { ok: false, exception: answer.kind === "exception" ? answer.exception : 0 };
}

/** What the listener's decoder makes of a device; null where it finds none. */
function read(device: SimulatedDevice, at: number): DeviceReport | null {
  const walk = discover();
  let step = walk.next();
  while (step.done !== true) step = walk.next(answerOf(device, step.value, at));
  if (!step.value.ok) return null;
  const { chain } = step.value;
  const mapped = { id: "INV1", unit: 1, site: "tarn", arrays: ["A1", "A2"], ports: { 1: "A1", 2: "A2" } };
  const runs = planReads(chain, mapped, true).flatMap((one) => {
    const answer = answerOf(device, one, at);
    return answer.ok ? [{ address: one.address, registers: answer.registers }] : [];
  });
  return chainHolds(chain, imageOf(runs)) ? decode(chain, mapped, imageOf(runs)) : null;
}

function faultyArrays(report: DeviceReport | null): readonly (string | null)[] {
  const set = report?.observations.filter(({ kind, value }) => kind === "earth-fault-bit" && value === true);
  return (set ?? []).map(({ array }) => array);
}

describe("the weather", () => {
  it("is dark at midnight and bright at noon", () => {
    expect(weatherAt(1, PLACE, MIDNIGHT).sun).toBe(0);
    expect(weatherAt(1, PLACE, NOON).sun).toBeGreaterThan(0.39);
  });

  it("has dew around sunrise on some mornings, and never at noon", () => {
    const dew = Array.from({ length: 60 }, (_, day) => weatherAt(3, PLACE, NOON + day * DAY - 7 * HOUR).wet);
    const noons = dew.map((_, day) => weatherAt(3, PLACE, NOON + day * DAY).wet);
    expect(dew.filter((wet) => wet > 0).length).toBeGreaterThan(20);
    expect(dew.filter((wet) => wet === 0).length).toBeGreaterThan(10);
    expect(Math.max(...noons)).toBe(0);
  });

  it("stays within its bounds anywhere on earth at any instant", () => {
    const place = fc.record({
      latitudeDeg: fc.integer({ min: -90, max: 90 }),
      longitudeDeg: fc.integer({ min: -180, max: 180 }),
    });
    fc.assert(
      fc.property(
        fc.nat(1e6),
        place,
        fc.integer({ min: Date.UTC(2020, 0), max: Date.UTC(2040, 0) }),
        (seed, where, at) => {
          const { sun, wet } = weatherAt(seed, where, at);
          for (const share of [sun, wet]) {
            expect(share).toBeGreaterThanOrEqual(0);
            expect(share).toBeLessThanOrEqual(1);
          }
        },
      ),
    );
  });
});

describe("what is drawn for a device", () => {
  it("is the same for the same seed, and nothing is wrong where no share is given", () => {
    for (let index = 0; index < 200; index++) {
      const scenario = drawScenario(5, index, NONE, NOON);
      expect(drawScenario(5, index, NONE, NOON)).toEqual(scenario);
      expect(scenario).toMatchObject({ fault: null, lie: null, drops: false });
    }
  });

  it("keeps its faults when the share of liars is changed", () => {
    const faultsOf = (liars: number) =>
      Array.from(
        { length: 300 },
        (_, index) => drawScenario(5, index, { ...NONE, faults: 0.3, liars }, NOON).fault,
      );
    expect(faultsOf(0.5)).toEqual(faultsOf(0));
    const count = faultsOf(0).filter((fault) => fault !== null).length;
    // 300 draws with a share of 0.3: 90, and four standard deviations of 7.9 to either side.
    expect(Math.abs(count - 90)).toBeLessThan(4 * 7.9);
  });
});

describe("a simulated device", () => {
  it.each(LAYOUTS)("with layout %s tells no fault while sound, by day and by night", (layout) => {
    for (const at of [NOON, MIDNIGHT]) expect(faultyArrays(read(simulated(layout), at))).toEqual([]);
    expect(read(simulated(layout), NOON)?.state).toBe("running");
    expect(read(simulated(layout), MIDNIGHT)?.state).toBe("sleeping");
  });

  it.each(LAYOUTS)("with layout %s tells a hard fault of its second port", (layout) => {
    const device = simulated(layout);
    device.setFault({ kind: "hard", ohms: 5000, port: 2 });
    const report = read(device, NOON);
    // Told of no array by name, it is the desk that tells all arrays of the device.
    const arrays = portsOf(layout) > 0 ? ["A2"] : [null];
    expect([report?.state, ...faultyArrays(report)]).toEqual(["fault", ...arrays]);
    // 5 megohms and 5 kiloohms in parallel, in whole kiloohms.
    expect(report?.observations.find(({ kind }) => kind === "insulation")?.value).toBe(4000);
    device.setFault(null);
    expect(faultyArrays(read(device, NOON))).toEqual([]);
  });

  it("tells a dawn-wet fault while it is wet and light, and none when it has dried", () => {
    const fault: FleetFault = { kind: "dawn-wet", ohms: 4000, port: 1 };
    const device = simulated("inverter", { fault });
    const days = Array.from({ length: 40 }, (_, day) => NOON + day * DAY);
    const dewy = days.filter((noon) => weatherAt(SOUND.seed, PLACE, noon - 6 * HOUR).wet > 0.2);
    expect(dewy.length).toBeGreaterThan(5);
    for (const noon of dewy) {
      expect(faultyArrays(read(device, noon - 6 * HOUR))).not.toEqual([]);
      expect(faultyArrays(read(device, noon))).toEqual([]);
    }
  });

  it("loses insulation day by day when it drifts", () => {
    const device = simulated("inverter", {
      fault: { kind: "drifting", sharePerDay: 0.1, since: NOON, port: 1 },
    });
    const ohms = [0, 10, 50].map(
      (day) => read(device, NOON + day * DAY)?.observations.find(({ kind }) => kind === "insulation")?.value,
    );
    // 5 megohms times 0.9 to the power of the days, in whole kiloohms: bc.
    expect(ohms).toEqual([5_000_000, 1_743_000, 25_000]);
    expect(faultyArrays(read(device, NOON + 50 * DAY))).not.toEqual([]);
  });

  it.each(LIES)("that lies by %s tells no earth fault that is not there", (lie: Lie) => {
    for (const layout of LAYOUTS)
      for (const at of [NOON, MIDNIGHT, NOON + DAY])
        expect(faultyArrays(read(simulated(layout, { lie }), at))).toEqual([]);
  });

  it("that drops out is silent for one hour of each day", () => {
    const device = simulated("inverter", { drops: true });
    const hours = Array.from({ length: 24 }, (_, hour) => Math.floor(NOON / DAY) * DAY + hour * HOUR);
    expect(hours.filter((at) => device.answer(40_000, 2, at).kind === "silence")).toHaveLength(1);
  });
});

describe("a fleet", () => {
  it("deals devices out to gateways, and steers the one that is named", async () => {
    const clock = { now: () => NOON };
    const fleet = await startFleet({
      sites: inventedSites(7),
      devicesPerGateway: 3,
      seed: 1,
      shares: NONE,
      clock,
    });
    expect(fleet.gateways.map(({ devices }) => devices.map(({ unit }) => unit))).toEqual([
      [1, 2, 3],
      [1, 2, 3],
      [1],
    ]);
    expect(new Set(fleet.gateways.map(({ port }) => port)).size).toBe(3);
    expect(fleet.scenarios.map(({ site }) => site)).toEqual(inventedSites(7).map(({ site }) => site));
    expect(fleet.silence("skerry-00002", "INV1", true)).toBe(true);
    expect(fleet.replace("skerry-00002", "INV1", "R-2")).toBe(true);
    expect(fleet.fault("skerry-00009", "INV1", null)).toBe(false);
    expect([fleet.reset("rehearsal-3"), fleet.reset("rehearsal-9")]).toEqual([true, false]);
    await fleet.stop();
  });
});
