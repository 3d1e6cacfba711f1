import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkReading } from "../watch/reading.ts";
import { decode } from "./decode.ts";
import type { SunspecDevice } from "./device.ts";
import { readingsOf, staled } from "./readings.ts";
import { commonModel, discoverIn, imageOfDevice, registersOfDevice } from "./registers.fixture.ts";

const AT = Date.UTC(2026, 5, 1, 5, 12);
const DEVICE: SunspecDevice = {
  id: "INV1",
  unit: 3,
  site: "tarn",
  arrays: ["A1", "A2"],
  ports: { 1: "A1", 2: "A2" },
};
const MODELS = [commonModel(), { id: 103, length: 50 }, { id: 122, length: 44 }, { id: 160, length: 48 }];

function readings(registers: ReadonlyMap<number, number>, device = DEVICE, at = AT) {
  const { found } = discoverIn(registers);
  if (!found.ok) throw new Error(JSON.stringify(found.problems));
  return readingsOf(decode(found.chain, device, imageOfDevice(registers)), device, at, "sunspec");
}

describe("the readings of a poll", () => {
  it("are one of each kind and array, the state in a word, and a heartbeat", () => {
    const registers = new Map(registersOfDevice(MODELS));
    // Running; 185 with a factor of 3; the second tracker's earth fault.
    registers
      .set(40_070 + 38, 4)
      .set(40_122 + 44, 185)
      .set(40_122 + 45, 3)
      .set(40_168 + 49, 1);
    expect(readings(registers).map(({ kind, array, value }) => [kind, array, value])).toEqual([
      ["earth-fault-bit", "A1", false],
      ["earth-fault-bit", "A2", true],
      ["insulation", undefined, 185_000],
      ["device-state", undefined, "running; earth fault at port 2 of model 160, array A2"],
      ["heartbeat", undefined, true],
    ]);
  });

  it("are sound and have a key of their own, whatever stands in the registers and however long the names", () => {
    const names = fc.string({ minLength: 60, maxLength: 60, unit: fc.constantFrom("a", "é", "7") });
    const words = fc.array(fc.oneof(fc.nat(0xffff), fc.constantFrom(0xffff, 0x8000, 0)), {
      minLength: 150,
      maxLength: 150,
    });
    fc.assert(
      fc.property(names, words, fc.integer({ min: 0, max: 4e12 }), (name, drawn, after) => {
        const registers = new Map(registersOfDevice(MODELS));
        const headers = [40_070, 40_122, 40_168].flatMap((address) => [address, address + 1]);
        for (const [at, word] of drawn.entries())
          if (!headers.includes(40_070 + at)) registers.set(40_070 + at, word);
        const device = {
          ...DEVICE,
          id: name,
          site: name,
          arrays: [name, `${name.slice(1)}b`],
          ports: { 1: name },
        };
        const told = readings(registers, device, AT + after);
        for (const reading of told) expect(checkReading(reading)).toMatchObject({ ok: true });
        expect(new Set(told.map(({ key }) => key)).size).toBe(told.length);
        for (const reading of told)
          expect(checkReading(staled(reading, device, reading.at + 1))).toMatchObject({ ok: true });
      }),
      { numRuns: 50 },
    );
  });

  it("have the same key when the same poll is told twice, and another key the next time", () => {
    const registers = registersOfDevice(MODELS);
    expect(readings(registers)).toEqual(readings(registers));
    const keys = [...readings(registers), ...readings(registers, DEVICE, AT + 1)].map(({ key }) => key);
    expect(new Set(keys).size).toBe(keys.length);
  });
});
