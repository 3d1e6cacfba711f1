import { describe, expect, it } from "vitest";
import type { Chain } from "./chain.ts";
import { chainHolds, decode, type DeviceReport } from "./decode.ts";
import type { SunspecDevice } from "./device.ts";
import { planReads } from "./plan.ts";
import {
  commonModel,
  discoverIn,
  imageOfDevice,
  type ModelOfDevice,
  registersOfDevice,
} from "./registers.fixture.ts";

const DEVICE: SunspecDevice = { id: "INV1", unit: 1, site: "tarn" };

function chainOf(models: readonly ModelOfDevice[]): Chain {
  const { found } = discoverIn(registersOfDevice([commonModel(), ...models]));
  if (!found.ok) throw new Error(JSON.stringify(found.problems));
  return found.chain;
}

function report(models: readonly ModelOfDevice[], device: Partial<SunspecDevice> = {}): DeviceReport {
  const image = imageOfDevice(registersOfDevice([commonModel(), ...models]));
  return decode(chainOf(models), { ...DEVICE, ...device }, image);
}

function faults({ observations }: DeviceReport): readonly (readonly [string | null, unknown])[] {
  return observations
    .filter(({ kind }) => kind === "earth-fault-bit")
    .map(({ array, value, quality }) => [array, quality === "good" ? value : quality]);
}

/** A bitfield of 32 bits with one bit set, high word first. */
function bit(offset: number, number: number): Record<number, number> {
  return { [offset]: number > 15 ? 2 ** (number - 16) : 0, [offset + 1]: number > 15 ? 0 : 2 ** number };
}

// Where an earth fault shows: SunSpec model definitions of April 2026 [published]: model, length with two blocks where it
// has blocks, offset of the bitfield from the model's ID, bit.
const EARTH_FAULTS: readonly (readonly [string, number, number, number, number])[] = [
  ["the aggregator", 2, 14, 7, 0],
  ["a single-phase inverter", 101, 50, 40, 0],
  ["a split-phase inverter", 102, 50, 40, 0],
  ["a three-phase inverter", 103, 50, 40, 0],
  ["a single-phase inverter in floating point", 111, 60, 50, 0],
  ["a split-phase inverter in floating point", 112, 60, 50, 0],
  ["a three-phase inverter in floating point", 113, 60, 50, 0],
  ["all trackers", 160, 8 + 2 * 20, 6, 0],
  ["the first tracker", 160, 8 + 2 * 20, 10 + 18, 0],
  ["the second tracker", 160, 8 + 2 * 20, 30 + 18, 0],
  ["a combiner", 401, 14 + 2 * 8, 7, 12],
  ["the second string of a combiner", 401, 14 + 2 * 8, 2 + 14 + 8 + 1, 12],
  ["an advanced combiner", 402, 20 + 2 * 14, 9, 12],
  ["the second string of an advanced combiner", 402, 20 + 2 * 14, 2 + 20 + 14 + 1, 12],
  ["a combiner of the second issue", 403, 16 + 2 * 8, 7, 12],
  ["the first string of a combiner of the second issue", 403, 16 + 2 * 8, 2 + 16 + 1, 12],
  ["an advanced combiner of the second issue", 404, 25 + 2 * 14, 9, 12],
  ["the second string of an advanced combiner of the second issue", 404, 25 + 2 * 14, 2 + 25 + 14 + 1, 12],
  ["a module", 501, 31, 4, 0],
  ["a module in floating point", 502, 28, 8, 0],
  ["the AC measurement", 701, 153, 6, 0],
  ["the first DC port", 714, 18 + 2 * 25, 20 + 23, 0],
  ["the second DC port", 714, 18 + 2 * 25, 45 + 23, 0],
];

describe("an earth fault", () => {
  it.each(EARTH_FAULTS)("shows in %s: model %i", (_, id, length, offset, number) => {
    expect(faults(report([{ id, length }]))).toEqual([[null, false]]);
    expect(faults(report([{ id, length, words: bit(offset, number) }]))).toEqual([[null, true]]);
  });

  it.each(EARTH_FAULTS)("is not any other bit of %s: model %i", (_, id, length, offset, number) => {
    for (let other = 0; other < 31; other++)
      if (other !== number)
        expect(faults(report([{ id, length, words: bit(offset, other) }]))).toEqual([[null, false]]);
  });

  it.each(EARTH_FAULTS)(
    "is not read out of a bitfield that the device does not offer: %s, model %i",
    (_, id, length, offset) => {
      const words = { [offset]: 0xffff, [offset + 1]: 0xffff };
      for (const [, value] of faults(report([{ id, length, words }]))) expect(value).not.toBe(true);
    },
  );

  it("is unknown where no bitfield is implemented", () => {
    const words = { 40: 0xffff, 41: 0xffff };
    expect(faults(report([{ id: 103, length: 50, words }]))).toEqual([[null, "not-implemented"]]);
  });

  it("is unknown, and not the neighbour's register, where the model is too short for its bitfield", () => {
    expect(
      faults(
        report([
          { id: 103, length: 30 },
          { id: 122, length: 44 },
        ]),
      ),
    ).toEqual([[null, "not-implemented"]]);
  });

  it("of a battery is not the array's: only the inverter's own bit counts", () => {
    const models = [
      { id: 103, length: 50 },
      { id: 802, length: 62, words: { 20: 0xffff, 21: 0x00ff } },
    ];
    expect(faults(report(models))).toEqual([[null, false]]);
  });

  it("of the last instance is seen where a device has several combiners", () => {
    const combiners = [
      { id: 401, length: 22 },
      { id: 401, length: 30, words: bit(7, 12) },
    ];
    expect(faults(report(combiners))).toEqual([[null, true]]);
  });
});

describe("an earth fault of a port", () => {
  const two = { id: 160, length: 8 + 2 * 20 };
  const arrays = ["A1", "A2"];
  const ports = { 1: "A1", 2: "A2" };
  const strings = { "160/2": "S3" };
  const inverterFault = { id: 103, length: 50, words: bit(40, 0) };
  const secondPort = { ...two, words: bit(48, 0) };

  it("is told of the port's array, and the inverter's own bit of no other array", () => {
    expect(report([inverterFault, secondPort], { arrays, ports, strings }).faultyPorts).toEqual([
      "port 2 of model 160, array A2, string S3",
    ]);
    expect(faults(report([inverterFault, secondPort], { arrays, ports }))).toEqual([
      ["A1", false],
      ["A2", true],
    ]);
  });

  it.each<[string, readonly ModelOfDevice[], Partial<SunspecDevice>]>([
    ["no port says so, but the inverter does", [inverterFault, two], { arrays, ports }],
    [
      "one of the ports cannot tell",
      [inverterFault, { ...two, words: { ...bit(48, 0), 28: 0xffff, 29: 0xffff } }],
      { arrays, ports },
    ],
    ["the port is not mapped", [secondPort], { arrays, ports: { 1: "A1" } }],
  ])("is told of all arrays where %s", (_, models, device) => {
    expect(faults(report(models, device))).toEqual([
      ["A1", true],
      ["A2", true],
    ]);
  });

  it("is told of an array by one reading, even when a healthy port leads to the same array", () => {
    const three = { id: 160, length: 8 + 3 * 20, words: bit(28, 0) };
    expect(faults(report([three], { arrays, ports: { 1: "A1", 2: "A1", 3: "A2" } }))).toEqual([
      ["A1", true],
      ["A2", false],
    ]);
  });

  it.each<{ readonly listed: readonly string[] }>([{ listed: [] }, { listed: ["A1"] }])(
    "is not lost where the list of arrays lacks the port's: $listed",
    ({ listed }) => {
      const told = faults(report([secondPort], { arrays: listed, ports }));
      expect(told).toContainEqual(["A2", true]);
    },
  );

  it("is that of the model and instance that the port's name says", () => {
    const combiners = [
      { id: 401, length: 30 },
      { id: 401, length: 30, words: bit(17, 12) },
    ];
    const named = { arrays, ports: { "401.1/1": "A1", "401.1/2": "A1", "401.2/1": "A2", "401.2/2": "A2" } };
    expect(faults(report(combiners, named))).toEqual([
      ["A1", false],
      ["A2", true],
    ]);
  });
});

describe("insulation", () => {
  const OHMS = 44;
  const FACTOR = 45;
  const insulationOf = (models: readonly ModelOfDevice[]) =>
    report(models)
      .observations.filter(({ kind }) => kind === "insulation")
      .map(({ quality, value }) => (quality === "good" ? value : quality));
  const status = (words: Record<number, number>): ModelOfDevice => ({ id: 122, length: 44, words });
  const state = (word: number): ModelOfDevice => ({ id: 103, length: 50, words: { 38: word } });

  it.each<[string, readonly ModelOfDevice[], unknown]>([
    ["185 with a factor of 3", [status({ [OHMS]: 185, [FACTOR]: 3 })], 185_000],
    ["a negative factor", [status({ [OHMS]: 65_000, [FACTOR]: 0xffff })], 6500],
    ["the largest count there is", [status({ [OHMS]: 65_534, [FACTOR]: 3 })], 65_534_000],
    ["the value that says it is absent", [status({ [OHMS]: 0xffff, [FACTOR]: 3 })], "not-implemented"],
    ["no scale factor: not taken as ohms", [status({ [OHMS]: 185, [FACTOR]: 0x8000 })], "not-implemented"],
    ["a scale factor that cannot be", [status({ [OHMS]: 185, [FACTOR]: 11 })], "implausible"],
    ["no status model", [state(4)], "not-implemented"],
    ["zero while running: a dead short", [state(4), status({ [OHMS]: 0, [FACTOR]: 3 })], 0],
    ["zero in a fault", [state(7), status({ [OHMS]: 0, [FACTOR]: 3 })], 0],
    ["zero while asleep: not measured", [state(2), status({ [OHMS]: 0, [FACTOR]: 3 })], "stale"],
    ["the lower of two", [status({ [OHMS]: 9, [FACTOR]: 3 }), status({ [OHMS]: 8, [FACTOR]: 3 })], 8000],
  ])("of %s", (_, models, value) => {
    expect(insulationOf([{ id: 501, length: 31 }, ...models])).toEqual([value]);
  });
});

describe("the state of a device", () => {
  // The state of model 701 counts from 0, that of the inverter models from 1 [published].
  it.each<[number, number, number, number, string | null]>([
    [103, 50, 38, 1, "off"],
    [103, 50, 38, 4, "running"],
    [103, 50, 38, 7, "fault"],
    [113, 60, 48, 7, "fault"],
    [113, 60, 48, 8, "standby"],
    [701, 153, 4, 0, "off"],
    [701, 153, 4, 3, "running"],
    [701, 153, 4, 6, "fault"],
    [701, 153, 4, 7, "standby"],
    [103, 50, 38, 99, "unknown state 99"],
    [103, 50, 38, 0xffff, null],
  ])("in model %i (length %i, offset %i) of %i is %s", (id, length, offset, code, word) => {
    expect(report([{ id, length, words: { [offset]: code } }]).state).toBe(word);
  });

  it("is a fault when any model says so", () => {
    expect(
      report([
        { id: 103, length: 50, words: { 38: 4 } },
        { id: 701, length: 153, words: { 4: 6 } },
      ]).state,
    ).toBe("fault");
  });
});

describe("points of the maker's own", () => {
  const inverter = { id: 103, length: 50, words: bit(44, 5) };

  it("count a bit that the user mapped, with the standard's bit beside it", () => {
    const extras = [
      { is: "event-bit", model: 103, point: "EvtVnd1", bit: 5, kind: "earth-fault-bit" },
    ] as const;
    expect(faults(report([inverter], { extras }))).toEqual([[null, true]]);
    expect(faults(report([{ id: 103, length: 50 }], { extras }))).toEqual([[null, false]]);
  });

  it("turn a bit into a residual-current trip of one array", () => {
    const extras = [
      { is: "event-bit", model: 103, point: "EvtVnd1", bit: 5, kind: "residual-trip", array: "A2" },
    ] as const;
    expect(report([inverter], { arrays: ["A1", "A2"], extras }).observations).toContainEqual({
      kind: "residual-trip",
      array: "A2",
      value: true,
      quality: "good",
    });
  });

  it.each<[string, object, Record<number, number>, unknown]>([
    ["kiloohms", { type: "uint16", kind: "insulation", unit: "kiloohm" }, { 500: 250 }, 250_000],
    ["a multiplier", { type: "uint32", kind: "insulation", multiplier: 100 }, { 500: 1, 501: 0 }, 6_553_600],
    ["milliamperes", { type: "uint16", kind: "residual-current", unit: "milliampere" }, { 500: 30 }, 0.03],
    [
      "a number that means no value",
      { type: "uint16", kind: "insulation", absent: [9999] },
      { 500: 9999 },
      "not-implemented",
    ],
    ["a negative insulation", { type: "int16", kind: "insulation" }, { 500: 0xfff0 }, "implausible"],
    ["a bit of a register", { type: "uint16", kind: "residual-trip", bit: 3 }, { 500: 8 }, true],
    ["another bit of it", { type: "uint16", kind: "residual-trip", bit: 2 }, { 500: 8 }, false],
    ["any number but zero", { type: "uint16", kind: "residual-trip" }, { 500: 2 }, true],
    ["a register that was not read", { type: "uint16", kind: "residual-trip" }, {}, "stale"],
  ])("read a register: %s", (_, register, words, value) => {
    const extras = [{ is: "register", address: 500, ...register }] as unknown as SunspecDevice["extras"] &
      object;
    const registers = new Map(registersOfDevice([commonModel(), { id: 501, length: 31 }]));
    for (const [address, word] of Object.entries(words)) registers.set(Number(address), word);
    const found = decode(chainOf([{ id: 501, length: 31 }]), { ...DEVICE, extras }, imageOfDevice(registers));
    const { kind } = register as { kind: string };
    const said = found.observations.filter((observation) => observation.kind === kind);
    expect(said.map(({ quality, value: read }) => (quality === "good" ? read : quality))).toEqual([value]);
  });
});

describe("a poll", () => {
  const models = [
    { id: 103, length: 50 },
    { id: 122, length: 44 },
    { id: 160, length: 8 + 12 * 20 },
    { id: 701, length: 153 },
  ];

  it("reads ID and length of every model with its points, in requests that a device must serve", () => {
    const chain = chainOf(models);
    for (const across of [true, false]) {
      const reads = planReads(chain, DEVICE, across);
      for (const { count } of reads) expect(count).toBeLessThanOrEqual(125);
      const read = new Map(registersOfDevice([commonModel(), ...models]));
      const wanted = new Set(
        reads.flatMap(({ address, count }) => Array.from({ length: count }, (_, at) => address + at)),
      );
      for (const address of [...read.keys()]) if (!wanted.has(address)) read.delete(address);
      const image = imageOfDevice(read);
      expect(chainHolds(chain, image)).toBe(true);
      expect(decode(chain, DEVICE, image)).toEqual(report(models));
    }
  });

  it("needs one request for an inverter with its status, and two where the device refuses to read across models", () => {
    const chain = chainOf(models.slice(0, 2));
    expect(planReads(chain, DEVICE, true)).toHaveLength(1);
    expect(planReads(chain, DEVICE, false)).toHaveLength(2);
  });

  it("reads the maker's registers apart, so that they take nothing with them when they are refused", () => {
    const extras = [{ is: "register", address: 40_171, type: "uint16", kind: "insulation" }] as const;
    const reads = planReads(chainOf(models.slice(0, 2)), { ...DEVICE, extras }, true);
    expect(reads.filter(({ models: touched }) => touched.length === 0)).toEqual([
      { address: 40_171, count: 1, models: [] },
    ]);
  });

  it("sees that the chain has changed", () => {
    const chain = chainOf(models.slice(0, 2));
    const other = imageOfDevice(
      registersOfDevice([commonModel(), { id: 103, length: 50 }, { id: 123, length: 44 }]),
    );
    expect(chainHolds(chain, other)).toBe(false);
  });

  it("names a count of ports that the registers have no room for", () => {
    expect(report([{ id: 160, length: 28, words: { 8: 2 } }]).problems).toMatchObject([
      { code: "SUNSPEC_COUNT_MISMATCH" },
    ]);
    expect(report([{ id: 160, length: 28, words: { 8: 1 } }]).problems).toEqual([]);
  });
});
