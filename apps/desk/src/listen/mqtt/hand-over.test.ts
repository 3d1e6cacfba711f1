import { checkReading, type WatchReading } from "@earthbell/model";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Clock } from "../../clock.ts";
import type { Log } from "../../log.ts";
import type { Accept } from "../accept.ts";
import { HandOver, type HandOverParts } from "./hand-over.ts";
import { HeardDevices } from "./heard-devices.ts";

const NOW = Date.UTC(2026, 5, 1, 5, 12);
const stays = new AbortController().signal;

/** A clock on which pauses are over at once, and remembered. */
function quickClock(): { readonly clock: Clock; readonly pauses: number[] } {
  const pauses: number[] = [];
  const pause = (ms: number) => {
    pauses.push(ms);
    return Promise.resolve();
  };
  return { clock: { now: () => NOW, pause }, pauses };
}

function recording(): { readonly log: Log; readonly lines: string[] } {
  const lines: string[] = [];
  const write = (level: string) => (_: unknown, text: string) => void lines.push(`${level} ${text}`);
  return { log: { info: write("info"), warn: write("warn"), error: write("error") }, lines };
}

function made(parts: Partial<HandOverParts> & { readonly accept: Accept }) {
  const { clock, pauses } = quickClock();
  const { log, lines } = recording();
  const devices = new HeardDevices();
  const handOver = new HandOver({ name: "mqtt", prefix: "eb" }, { clock, log, ...parts }, devices);
  return { handOver, devices, pauses, lines };
}

const everything: Accept = (readings) => Promise.resolve({ taken: readings.length, known: 0, setAside: [] });

function arrival(payload: unknown, topic = "eb/tarn/inv1/readings") {
  return { topic, payload: new TextEncoder().encode(JSON.stringify(payload)), at: NOW };
}
const reading = (n: number) => ({ at: NOW, kind: "insulation", value: n, unit: "ohm" });

describe("handing messages over", () => {
  it("waits longer and longer for a store that fails, and says so once", async () => {
    let failures = 8;
    const accept: Accept = (readings) =>
      failures-- > 0 ? Promise.reject(new Error("disk full")) : everything(readings);
    const { handOver, pauses, lines } = made({ accept });
    expect(await handOver.take(arrival({ readings: [reading(1)] }), stays)).toBe(true);
    expect(pauses).toEqual([1000, 2000, 4000, 8000, 16_000, 30_000, 30_000, 30_000]);
    expect(lines).toEqual(["error Readings cannot be stored; they are kept and tried again."]);
    expect(handOver.failingSinceAt).toBeNull();
  });

  it("gives a message up when its connection is gone, and never calls it stored", async () => {
    const gone = new AbortController();
    const accept: Accept = () => {
      gone.abort();
      return Promise.reject(new Error("disk full"));
    };
    const { handOver } = made({ accept });
    expect(await handOver.take(arrival({ readings: [reading(1)] }), gone.signal)).toBe(false);
    expect(handOver.failingSinceAt).toBe(NOW);
  });

  it("keeps the order of messages, one at the door at a time", async () => {
    const seen: unknown[] = [];
    let inside = 0;
    const accept: Accept = async (readings) => {
      inside += 1;
      expect(inside).toBe(1);
      await Promise.resolve();
      seen.push(...readings.map(({ value }) => value));
      inside -= 1;
      return everything(readings);
    };
    const { handOver } = made({ accept });
    await Promise.all([1, 2, 3].map((n) => handOver.take(arrival({ readings: [reading(n)] }), stays)));
    expect(seen).toEqual([1, 2, 3]);
  });

  it("cuts a long message into batches and loses none of it", async () => {
    const batches: number[] = [];
    const accept: Accept = (readings) => {
      batches.push(readings.length);
      return everything(readings);
    };
    const { handOver } = made({ accept });
    const readings = Array.from({ length: 901 }, (_, n) => reading(n));
    await handOver.take(arrival({ readings }), stays);
    expect(batches).toEqual([500, 401]);
  });

  it("counts what is set aside, and says it again only when the reason changes", async () => {
    let reason = "no unit";
    const accept: Accept = (readings) =>
      Promise.resolve({ taken: 0, known: 0, setAside: readings.map(({ key }) => ({ key, reason })) });
    const { handOver, lines } = made({ accept });
    await handOver.take(arrival({ readings: [reading(1), reading(2)] }), stays);
    await handOver.take(arrival({ readings: [reading(3)] }), stays);
    reason = "no instant";
    await handOver.take(arrival({ readings: [reading(4)] }), stays);
    expect(handOver.setAside).toBe(4);
    expect(lines).toEqual(["warn Readings were set aside.", "warn Readings were set aside."]);
  });

  it("a drill that nothing here can rehearse is set aside, and moves no alarm", async () => {
    const seen: unknown[] = [];
    const accept: Accept = (readings) => {
      seen.push(...readings);
      return everything(readings);
    };
    const { handOver } = made({ accept });
    await handOver.take(arrival({ readings: [reading(1)], drill: true }), stays);
    expect(seen.map((one) => checkReading(one).ok)).toEqual([false]);
  });

  it("what is no reading in a drill is set aside, the rest rehearsed", async () => {
    const [seen, rehearsed]: [unknown[], unknown[]] = [[], []];
    const accept: Accept = (readings) => {
      seen.push(...readings);
      return everything(readings);
    };
    const rehearse = (readings: readonly WatchReading[]) => Promise.resolve(rehearsed.push(...readings));
    const { handOver } = made({ accept, rehearse });
    await handOver.take(arrival({ readings: [reading(1), 17], drill: true }), stays);
    expect([seen.length, rehearsed.length]).toEqual([1, 1]);
    expect(checkReading(seen[0]).ok).toBe(false);
  });

  it("brings a drill to the rehearsal and not to the alarms", async () => {
    const rehearsed: (readonly WatchReading[])[] = [];
    const accept: Accept = () => Promise.reject(new Error("not this way"));
    const rehearse = (readings: readonly WatchReading[]) => Promise.resolve(rehearsed.push(readings));
    const { handOver } = made({ accept, rehearse });
    expect(await handOver.take(arrival({ readings: [reading(1)], drill: true }), stays)).toBe(true);
    expect(rehearsed).toHaveLength(1);
    expect(checkReading(rehearsed[0]![0]).ok).toBe(true);
  });

  it("knows which devices are there and which said by their will that they are gone", async () => {
    const { handOver, devices } = made({ accept: everything });
    await handOver.take(arrival({ readings: [reading(1)] }), stays);
    await handOver.take(arrival({ alive: false }, "eb/tarn/inv2/life"), stays);
    expect([devices.known, devices.gone]).toEqual([2, 1]);
    await handOver.take(arrival({ alive: true, at: NOW }, "eb/tarn/inv2/life"), stays);
    expect([devices.known, devices.gone]).toEqual([2, 0]);
  });

  it("ends with every message stored or set aside, whatever arrives", async () => {
    const anything = fc.record({
      topic: fc.oneof(fc.string({ unit: "binary" }), fc.constantFrom("eb/t/i/readings", "eb/t/i/life")),
      payload: fc.oneof(
        fc.uint8Array(),
        fc.json().map((text) => new TextEncoder().encode(text)),
      ),
      at: fc.constant(NOW),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(anything, { maxLength: 5 }), async (arrivals) => {
        let seen = 0;
        const accept: Accept = (readings) => {
          seen += readings.length;
          readings.forEach((one) => checkReading(one));
          return everything(readings);
        };
        const { handOver } = made({ accept });
        const stored = await Promise.all(arrivals.map((one) => handOver.take(one, stays)));
        expect(stored.every((one) => one)).toBe(true);
        expect(seen).toBeGreaterThanOrEqual(arrivals.length);
      }),
      { numRuns: 300 },
    );
  });
});
