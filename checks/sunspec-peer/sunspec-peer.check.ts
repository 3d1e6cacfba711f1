import type { SunspecDevice, WatchReading } from "@earthbell/model";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { machineClock } from "../../apps/desk/src/clock.ts";
import { inventedSites, startFleet } from "../../apps/desk/src/fleet/index.ts";
import {
  type SunspecListener,
  startSunspecListener,
} from "../../apps/desk/src/listen/sunspec/sunspec-listener.ts";
import { freePort, Peer, readFleet } from "./peer.ts";

const DEVICES: readonly SunspecDevice[] = [
  { id: "INV1", unit: 1, site: "tarn" },
  { id: "INV2", unit: 2, site: "tarn" },
  { id: "INV3", unit: 3, site: "tarn", arrays: ["A1", "A2"], ports: { 1: "A1", 2: "A2" } },
  { id: "INV4", unit: 4, site: "tarn" },
  {
    id: "COMB",
    unit: 5,
    site: "tarn",
    arrays: ["A1", "A2", "A3"],
    ports: { "401/1": "A1", "401/2": "A2", "401/3": "A3" },
  },
  {
    id: "INV6",
    unit: 6,
    site: "tarn",
    extras: [{ is: "event-bit", model: 103, point: "EvtVnd1", bit: 5, kind: "residual-trip" }],
  },
  { id: "NONE", unit: 7, site: "tarn" },
  { id: "GONE", unit: 99, site: "tarn" },
  {
    id: "RAW",
    unit: 7,
    site: "moor",
    extras: [{ is: "register", address: 100, type: "uint16", unit: "kiloohm", kind: "insulation" }],
  },
];

const told: WatchReading[] = [];
let peer: Peer;
let other: Peer;
let listener: SunspecListener;

/** What was last told of a device and kind, of each array. */
function last(device: string, kind: WatchReading["kind"]): Readonly<Record<string, unknown>> {
  const of = told.filter((reading) => reading.device === device && reading.kind === kind);
  return Object.fromEntries(
    of.map(({ array = "", value, quality }) => [array, quality === "good" ? value : quality]),
  );
}

function hearing(device: string) {
  return listener.devices().find((one) => one.device === device);
}

async function until(check: () => void): Promise<void> {
  await vi.waitFor(check, { timeout: 20_000, interval: 50 });
}

beforeAll(async () => {
  [peer, other] = [new Peer(await freePort()), new Peer(await freePort())];
  await Promise.all([peer.start(), other.start()]);
  const gateway = { host: "127.0.0.1", pollEveryMs: 400, timeoutMs: 500, restMs: 0 };
  listener = startSunspecListener(
    {
      gateways: [
        { ...gateway, id: "one", port: peer.port, devices: DEVICES },
        { ...gateway, id: "two", port: other.port, devices: [{ id: "FAR", unit: 1, site: "fell" }] },
      ],
    },
    {
      accept: (readings) => {
        told.push(...readings);
        return Promise.resolve({ taken: readings.length, known: 0, setAside: [] });
      },
      clock: machineClock,
      random: Math.random,
      log: { info: () => undefined, warn: () => undefined, error: console.error },
    },
  );
  await until(() => {
    for (const { id } of DEVICES) expect((hearing(id)?.failures ?? 0) > 0 || hearing(id)?.hears).toBe(true);
    expect(listener.health()).toMatchObject({ known: 10, unheard: 2 });
    expect(new Set(told.map(({ device }) => device)).size).toBe(8);
  });
});

afterAll(async () => {
  await listener.stop();
  await Promise.all([peer.kill(), other.kill()]);
});

describe("devices that another implementation serves", () => {
  it.each<[string, string, WatchReading["kind"], Readonly<Record<string, unknown>>]>([
    ["at 40000: no fault", "INV1", "earth-fault-bit", { "": false }],
    ["insulation of 185 with a factor of 3", "INV1", "insulation", { "": 185_000 }],
    ["state 4 of model 103", "INV1", "device-state", { "": "running" }],
    [
      "at 0, after a common model of 65 registers: a fault in floating-point model 113",
      "INV2",
      "earth-fault-bit",
      { "": true },
    ],
    ["insulation that the device does not offer", "INV2", "insulation", { "": "not-implemented" }],
    ["state 7 of model 113", "INV2", "device-state", { "": "fault" }],
    [
      "at 50000: the fault of the second port of model 714",
      "INV3",
      "earth-fault-bit",
      { A1: false, A2: true },
    ],
    ["a negative scale factor", "INV3", "insulation", { "": 6500 }],
    [
      "state 6 of model 701",
      "INV3",
      "device-state",
      { "": "fault; earth fault at port 2 of model 714, array A2" },
    ],
    [
      "a bitfield of 0xFFFFFFFF: no fault, and no health",
      "INV4",
      "earth-fault-bit",
      { "": "not-implemented" },
    ],
    ["insulation without a scale factor", "INV4", "insulation", { "": "not-implemented" }],
    [
      "bit 12 of the third input of a combiner",
      "COMB",
      "earth-fault-bit",
      { A1: false, A2: false, A3: true },
    ],
    ["a maker's bit that the user mapped", "INV6", "residual-trip", { "": true }],
    ["the standard's bit beside it", "INV6", "earth-fault-bit", { "": false }],
    ["a maker's register without any model", "RAW", "insulation", { "": 42_000 }],
  ])("are read as they are: %s", (_, device, kind, values) => {
    expect(last(device, kind)).toEqual(values);
  });

  it("name themselves", () => {
    expect(hearing("INV2")?.identity).toEqual({
      maker: "Merganser",
      model: "Teal 12",
      version: "1.4",
      serial: "A-2",
    });
  });

  it("that are none, or not there, are named with the reason", () => {
    expect(hearing("NONE")?.fault?.code).toBe("SUNSPEC_MARKER_MISSING");
    expect(hearing("GONE")?.hears).toBe(false);
    expect(listener.health().state).toBe("partly-deaf");
  });

  it("are told of when a register changes", async () => {
    // Evt1 of unit 1: base, marker, common model of 68 registers, offset 40, low word.
    peer.set(1, 40_000 + 2 + 68 + 41, 1);
    await until(() => {
      expect(last("INV1", "earth-fault-bit")).toEqual({ "": true });
    });
    peer.set(1, 40_000 + 2 + 68 + 41, 0);
    await until(() => {
      expect(last("INV1", "earth-fault-bit")).toEqual({ "": false });
    });
  });

  it("that stall are taken back, while those of another gateway are still heard", async () => {
    other.stall();
    await until(() => {
      expect(last("FAR", "earth-fault-bit")).toEqual({ "": "stale" });
    });
    expect(hearing("FAR")?.hears).toBe(false);
    expect(hearing("INV1")).toMatchObject({ hears: true, failures: 0 });
    other.resume();
    await until(() => {
      expect(last("FAR", "earth-fault-bit")).toEqual({ "": false });
    });
  });

  it("that are switched off and on are found again", async () => {
    await other.kill();
    await until(() => {
      expect(hearing("FAR")).toMatchObject({ hears: false, fault: { code: "SUNSPEC_NO_CONNECTION" } });
    });
    await other.start();
    await until(() => {
      expect(hearing("FAR")).toMatchObject({ hears: true, failures: 0 });
    });
  });
});

describe("the rehearsal fleet", () => {
  it("is read by another implementation, and refuses to be written to", async () => {
    const clock = { now: () => Date.UTC(2026, 0, 15, 2) };
    const shares = { faults: 0, dropouts: 0, liars: 0 };
    const fleet = await startFleet({ sites: inventedSites(5), devicesPerGateway: 5, seed: 4, shares, clock });
    try {
      const { port } = fleet.gateways[0]!;
      // 13:00 at 160 degrees east: the sun is up, and the device runs.
      expect(await readFleet(port, 1, 40_000)).toEqual({
        marker: [0x5375, 0x6e53],
        models: [
          [1, 66],
          [103, 50],
          [122, 44],
        ],
        events: [0, 0],
        state: [4],
        outside: { exception: 2 },
        otherUnit: 11,
        written: 1,
      });
      fleet.fault("skerry-00001", "INV1", { kind: "hard", ohms: 5000, port: 1 });
      expect(await readFleet(port, 1, 40_000)).toMatchObject({ events: [0, 1], state: [7] });
      expect(await readFleet(port, 3, 50_000)).toMatchObject({
        models: [
          [1, 66],
          [103, 50],
          [122, 44],
          [160, 48],
        ],
      });
      expect(await readFleet(port, 5, 0)).toMatchObject({
        models: [
          [1, 66],
          [701, 153],
          [714, 68],
          [122, 44],
        ],
      });
    } finally {
      await fleet.stop();
    }
  });
});
