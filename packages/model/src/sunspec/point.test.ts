import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { imageOf } from "./image.ts";
import { bitSet, type PointType, readPoint, readText, scale } from "./point.ts";

const at100 = (...registers: number[]) => imageOf([{ address: 100, registers }]);
const NONE = "not-implemented";

describe("a point", () => {
  // Sentinels: SunSpec information model, as the alliance's own library decodes them [published].
  it.each<[PointType, readonly number[], number | string]>([
    ["int16", [0x8000], NONE],
    ["int16", [0x8001], -32_767],
    ["int16", [0xffff], -1],
    ["uint16", [0xffff], NONE],
    ["uint16", [0xfffe], 65_534],
    ["uint16", [0x8000], 32_768],
    ["acc16", [0], NONE],
    ["bitfield16", [0xffff], NONE],
    ["bitfield16", [0x7fff], 0x7fff],
    ["int32", [0x8000, 0], NONE],
    ["int32", [0xffff, 0xffff], -1],
    ["uint32", [0xffff, 0xffff], NONE],
    ["uint32", [0x0001, 0x0002], 65_538],
    ["acc32", [0, 0], NONE],
    ["bitfield32", [0xffff, 0xffff], NONE],
    // The highest bit set: the rest says nothing.
    ["bitfield32", [0x8000, 0x0001], NONE],
    ["bitfield32", [0x7fff, 0xffff], 0x7fff_ffff],
    ["float32", [0x7fc0, 0], NONE],
    ["float32", [0x3f80, 0], 1],
    ["float32", [0xc2f7, 0x0000], -123.5],
  ])("of type %s in %j reads %s", (type, registers, value) => {
    expect(readPoint(at100(...registers), 100, type)).toBe(value);
  });

  it("is not read where half of it is missing", () => {
    expect(readPoint(at100(1), 100, "uint32")).toBe("not-read");
    expect(readPoint(at100(1), 101, "uint16")).toBe("not-read");
  });

  it("can be told to have its low word first", () => {
    expect(readPoint(at100(0x0002, 0x0001), 100, "uint32", true)).toBe(65_538);
  });

  it("of a bitfield without meaning has no bit, set or not", () => {
    const field = readPoint(at100(0xffff, 0xffff), 100, "bitfield32");
    for (let bit = 0; bit < 32; bit++) expect(bitSet(field, bit)).toBeNull();
  });

  it("shows exactly the bits that are set", () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 0, max: 30 })), (bits) => {
        const raw = bits.reduce((sum, bit) => sum + 2 ** bit, 0);
        const field = readPoint(at100(Math.floor(raw / 65_536), raw % 65_536), 100, "bitfield32");
        for (let bit = 0; bit < 31; bit++) expect(bitSet(field, bit)).toBe(bits.includes(bit));
      }),
    );
  });
});

describe("a scale factor", () => {
  it.each<[number | "not-implemented", number | "not-implemented", unknown]>([
    [185, 3, { quality: "good", value: 185_000 }],
    [1234, -2, { quality: "good", value: 12.34 }],
    [7, 0, { quality: "good", value: 7 }],
    [1, 10, { quality: "good", value: 1e10 }],
    [1, 11, { quality: "implausible" }],
    [1, -11, { quality: "implausible" }],
    // Missing: the point says nothing, and is not taken times one.
    [185, NONE, { quality: NONE }],
    [NONE, 3, { quality: NONE }],
  ])("turns %s with factor %s into %j", (value, factor, scaled) => {
    expect(scale(value, factor)).toEqual(scaled);
  });
});

describe("a text", () => {
  it("ends at its first zero and holds what can be printed only", () => {
    expect(readText(at100(0x4e2d, 0x3007, 0x3432, 0x0041), 100, 4)).toBe("N-042");
    expect(readText(at100(0, 0), 100, 2)).toBe("");
    expect(readText(at100(0x4e2d), 100, 2)).toBe("");
  });
});
