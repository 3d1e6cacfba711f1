import { describe, expect, it } from "vitest";
import { type Pixels, shrunk } from "./shrink.ts";

function picture(width: number, height: number, at: (x: number, y: number) => readonly number[]): Pixels {
  const data = Array.from({ length: width * height }, (_, index) =>
    at(index % width, Math.floor(index / width)),
  ).flat();
  return { data: Uint8ClampedArray.from(data), width, height };
}

describe("a picture made smaller", () => {
  it("keeps its shape with the longer edge at what is asked for", () => {
    const { width, height } = shrunk(
      picture(300, 400, () => [1, 2, 3, 255]),
      100,
    );
    expect([width, height]).toEqual([75, 100]);
  });

  it("is the mean of the points that each point takes the place of", () => {
    // A chess board of black and white is grey from afar: the mean of 0 and 255.
    const board = picture(40, 40, (x, y) => ((x + y) % 2 === 0 ? [0, 0, 0, 255] : [255, 255, 255, 255]));
    const { data } = shrunk(board, 20);
    expect([...data].every((one, at) => (at % 4 === 3 ? one === 255 : Math.abs(one - 127.5) <= 0.5))).toBe(
      true,
    );
  });

  it("takes every point into account once where the sizes do not divide", () => {
    const steps = picture(7, 1, (x) => [x * 30, 0, 0, 255]);
    const { data, width } = shrunk(steps, 3);
    // 0 1 | 2 3 | 4 5 6, each times thirty.
    expect([width, data[0], data[4], data[8]]).toEqual([3, 15, 75, 150]);
  });

  it("lies on white paper where it is clear, and keeps its size where it is small", () => {
    const clear = picture(2, 1, (x) => [10, 20, 30, x === 0 ? 0 : 255]);
    const { data, width, height } = shrunk(clear, 1000);
    expect([width, height]).toEqual([2, 1]);
    expect([...data]).toEqual([255, 255, 255, 255, 10, 20, 30, 255]);
  });
});
