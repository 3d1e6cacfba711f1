import { describe, expect, it } from "vitest";
import { annunciator } from "../path/tarn.fixture.ts";
import { designLoop } from "./design-loop.ts";
import { drawLoop } from "./draw-loop.ts";
import type { ContactRating } from "./loop-design.ts";

const sound = annunciator.loop!;
const drawn = (spoil: object, current = 1): string => {
  const contact = { voltage: 30, current } as unknown as ContactRating;
  return drawLoop(designLoop({ loop: { ...sound, ...spoil }, contact }));
};

/** Every tag opened is closed, in order. */
function expectBalanced(svg: string): void {
  const open: string[] = [];
  for (const [tag, close, name, self] of svg.matchAll(/<(\/?)(\w+)[^<>]*?(\/?)>/g)) {
    if (self === "/") continue;
    if (close === "/") expect(open.pop()).toBe(name);
    else open.push(name!);
    expect(tag).not.toMatch(/NaN|undefined|null/);
  }
  expect(open).toEqual([]);
}

describe("drawLoop", () => {
  it.each<readonly [string, object, number]>([
    ["a sound loop", {}, 1],
    ["a relay with its coil on a rung", { load: { ...sound.load, kind: "lamp" } }, 1],
    ["a coil with its diode", { load: { ...sound.load, kind: "relay", current: 0.05 } }, 1],
    ["an end-of-line resistor", { sense: "energise-to-alarm", supervised: false }, 1],
    [
      "a loop of which little is known",
      { cable: undefined, load: undefined, battery: undefined, fuse: undefined },
      1,
    ],
  ])("draws %s as a whole document", (_, spoil, current) => {
    const svg = drawn(spoil, current);
    expectBalanced(svg);
    expect(svg).toMatch(/^<svg .*<\/svg>$/s);
  });

  it("numbers each change at its part and in its note", () => {
    const svg = drawn({ cable: { ...sound.cable, area: 0.5 }, fuse: 2 });
    const numbers = [...svg.matchAll(/class="mark-number">(\d+)</g)].map(([, number]) => Number(number));
    expect(numbers.sort()).toEqual([1, 1, 2, 2]);
    // By hand at 0.3 A: 0.75 mm² leaves 9.42 V, under 9 V and 5 % more; 1 mm² leaves 9.69 V.
    expect(svg).toContain("cable: 0.5 mm² → 1 mm²");
    expect(svg).toContain("2 changed, 0 left open");
  });

  it("shows the voltage at the load that the design gives", () => {
    expect(drawn({})).toContain("gets 9.93 V");
  });
});
