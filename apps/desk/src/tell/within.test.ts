import { describe, expect, it } from "vitest";
import type { Clock } from "../clock.ts";
import { GaveUp, within } from "./within.ts";

/** A clock whose pauses end when the test says so, or with their signal. */
function handClock(): { readonly clock: Clock; readonly ring: () => void; readonly asked: number[] } {
  const asked: number[] = [];
  let ring: () => void = () => undefined;
  const clock: Clock = {
    now: () => 0,
    pause: (ms, signal) =>
      new Promise((resolve) => {
        asked.push(ms);
        ring = resolve;
        if (signal.aborted) resolve();
        signal.addEventListener("abort", () => {
          resolve();
        });
      }),
  };
  return {
    clock,
    ring: () => {
      ring();
    },
    asked,
  };
}

const heeding = (signal: AbortSignal): Promise<string> =>
  new Promise((_, reject) => {
    signal.addEventListener("abort", () => {
      reject(new Error("aborted"));
    });
  });
const deaf = (): Promise<string> => new Promise(() => undefined);

describe("one attempt within its time", () => {
  it("gives its result and lets the clock go", async () => {
    const { clock, asked } = handClock();
    const stop = new AbortController();
    expect(await within(clock, 5000, stop.signal, () => Promise.resolve("sent"))).toBe("sent");
    expect(asked).toEqual([5000]);
  });

  it("passes on what the work throws", async () => {
    const { clock } = handClock();
    const work = () => Promise.reject(new Error("no route"));
    await expect(within(clock, 5000, new AbortController().signal, work)).rejects.toThrow("no route");
  });

  it.each([
    ["work that heeds its signal", heeding],
    ["work that does not", deaf],
  ])("gives up when the time is over: %s", async (_, work) => {
    const { clock, ring } = handClock();
    const attempt = within(clock, 5000, new AbortController().signal, work);
    ring();
    await expect(attempt).rejects.toThrow(new GaveUp("No answer within 5 s."));
  });

  it.each([
    ["work that heeds its signal", heeding],
    ["work that does not", deaf],
  ])("gives up when the desk stops: %s", async (_, work) => {
    const { clock } = handClock();
    const stop = new AbortController();
    const attempt = within(clock, 5000, stop.signal, work);
    stop.abort();
    await expect(attempt).rejects.toThrow(new GaveUp("The desk is stopping."));
  });

  it("gives up at once where the desk has stopped already", async () => {
    const { clock } = handClock();
    await expect(within(clock, 5000, AbortSignal.abort(), deaf)).rejects.toThrow("The desk is stopping.");
  });
});
