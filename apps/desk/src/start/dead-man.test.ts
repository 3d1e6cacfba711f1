import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { runDeadMan } from "./dead-man.ts";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "earthbell-beat-"));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** A clock that stops the work after so many pauses. */
function pausing(pauses: number) {
  const stop = new AbortController();
  let left = pauses;
  let now = Date.UTC(2026, 5, 1);
  const clock = {
    now: () => now,
    pause: (ms: number) => {
      now += ms;
      if (--left === 0) stop.abort();
      return Promise.resolve();
    },
  };
  return { clock, signal: stop.signal };
}

const silent = { info: () => undefined, warn: () => undefined, error: () => undefined };

describe("the sign of life", () => {
  it("is the newest instant in the file, and a question to the address each time", async () => {
    const file = join(folder, "beat");
    const asked: string[] = [];
    const { clock, signal } = pausing(3);
    const ask = (url: string) => {
      asked.push(url);
      return Promise.reject(new Error("no answer"));
    };
    await runDeadMan(
      { file, url: "https://outside.example.net", everyMs: 60_000 },
      { clock, log: silent, atWork: () => Promise.resolve(true), ask },
      signal,
    );
    expect(readFileSync(file, "utf8")).toBe("2026-06-01T00:02:00.000Z\n");
    expect(asked).toHaveLength(3);
  });

  it("is not given while the store cannot say whether the watch works", async () => {
    const file = join(folder, "beat");
    const { clock, signal } = pausing(2);
    const atWork = () => Promise.reject(new Error("the store does not answer"));
    await runDeadMan({ file, everyMs: 60_000 }, { clock, log: silent, atWork }, signal);
    expect(existsSync(file)).toBe(false);
  });

  it("is not given while the watch looks at nothing", async () => {
    const file = join(folder, "beat");
    const { clock, signal } = pausing(2);
    await runDeadMan(
      { file, everyMs: 60_000 },
      { clock, log: silent, atWork: () => Promise.resolve(false) },
      signal,
    );
    expect(existsSync(file)).toBe(false);
  });
});
