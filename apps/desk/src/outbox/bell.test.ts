import { describe, expect, it } from "vitest";
import { machineClock } from "../clock.ts";
import { createBell } from "./bell.ts";

const HOUR_MS = 3_600_000;
const never = new AbortController().signal;

describe("the bell of the outbox", () => {
  it("wakes everybody who waits for it", async () => {
    const bell = createBell(machineClock);
    const waiting = [0, 1].map(() => bell.pause(bell.rung(), HOUR_MS, never));
    bell.ring();
    await Promise.all(waiting);
    expect(bell.rung()).toBe(1);
  });

  it("lets nobody wait who has not looked since it rang", async () => {
    const bell = createBell(machineClock);
    const looked = bell.rung();
    bell.ring();
    await bell.pause(looked, HOUR_MS, never);
    expect(bell.rung()).toBe(looked + 1);
  });

  it("holds nobody up at the end", async () => {
    const bell = createBell(machineClock);
    const end = new AbortController();
    const waiting = bell.pause(bell.rung(), HOUR_MS, end.signal);
    end.abort();
    await waiting;
    await bell.pause(bell.rung(), HOUR_MS, end.signal);
    expect(bell.rung()).toBe(0);
  });

  it("waits as long as it was told when nothing rings", async () => {
    const asked: number[] = [];
    const bell = createBell({
      now: () => 0,
      pause: (ms) => {
        asked.push(ms);
        return Promise.resolve();
      },
    });
    await bell.pause(bell.rung(), 1000, never);
    expect(asked).toEqual([1000]);
  });
});
