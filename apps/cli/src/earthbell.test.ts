import { PassThrough } from "node:stream";
import { describe, expect, it } from "vitest";
import { earthbell } from "./earthbell.ts";
import { Writer } from "./output/writer.ts";
import type { World } from "./world.ts";

function worldWith(changes: Partial<World> = {}): { world: World; out: () => string; err: () => string } {
  const streams = [new PassThrough(), new PassThrough()] as const;
  const world: World = {
    environment: {},
    out: new Writer(streams[0]),
    err: new Writer(streams[1]),
    standardInput: () => new PassThrough().end(),
    terminal: { isTerminal: false, columns: undefined },
    today: () => "2026-11-25",
    random: () => 0.5,
    stopSignal: () => AbortSignal.abort(),
    demoFolder: "demo",
    ...changes,
  };
  const text = (stream: PassThrough) => () => String((stream.read() as Buffer | null) ?? "");
  return { world, out: text(streams[0]), err: text(streams[1]) };
}

const brokenClock = {
  today: (): string => {
    throw new TypeError("the clock is broken");
  },
};

describe("earthbell", () => {
  it("tells of a bug in one plain line with how to report it, and ends with 1", async () => {
    const { world, err } = worldWith(brokenClock);
    expect(await earthbell(["rules", "--place", "AU"], world)).toBe(1);
    const text = err();
    expect(text.trimEnd().split("\n")).toHaveLength(1);
    expect(text).toContain("the clock is broken");
    expect(text).toContain("report");
    expect(text).toContain("EARTHBELL_DEBUG");
  });

  it("shows the trace only to those who ask for it", async () => {
    const { world, err } = worldWith({ ...brokenClock, environment: { EARTHBELL_DEBUG: "1" } });
    expect(await earthbell(["rules", "--place", "AU"], world)).toBe(1);
    expect(err()).toMatch(/^\s+at /mu);
  });

  it("uses the day of the clock it is given", async () => {
    const { world, out } = worldWith({ today: () => "2019-03-14" });
    expect(await earthbell(["rules", "--place", "AU-VIC"], world)).toBe(0);
    expect(out()).toContain("au-nz-5033-2014");
  });

  it("finds an option before a command that is not there", async () => {
    const { world, err } = worldWith();
    expect(await earthbell(["--color=never", "lcoate"], world)).toBe(2);
    expect(err()).toContain("earthbell locate");
  });

  it("tells of a missing demonstration without a trace", async () => {
    const { world, err } = worldWith({ demoFolder: "no-such-folder" });
    expect(await earthbell(["demo"], world)).toBe(2);
    expect(err()).toContain("FILE_PATH_NOT_FOUND");
  });
});
