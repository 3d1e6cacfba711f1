import type { WatchReading } from "@earthbell/model";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Backlog } from "./backlog.ts";

const units = {
  "earth-fault-bit": "bit",
  insulation: "ohm",
  "residual-current": "ampere",
  heartbeat: "none",
} as const;

function reading(kind: keyof typeof units, array: string, at: number, value: number): WatchReading {
  const bit = kind === "earth-fault-bit";
  return {
    site: "tarn",
    array,
    device: "INV1",
    at,
    kind,
    value: kind === "heartbeat" ? true : bit ? value > 70 : value,
    unit: units[kind],
    quality: "good",
    source: "sunspec",
    key: `${kind}/${array}/${String(at)}`,
  };
}

const drawn = fc
  .array(
    fc.tuple(
      fc.constantFrom(...(Object.keys(units) as (keyof typeof units)[])),
      fc.constantFrom("A1", "A2"),
      fc.nat(100),
    ),
  )
  .map((rows) => rows.map(([kind, array, value], at) => reading(kind, array, at, value)));

describe("readings that the desk has not taken in", () => {
  it("keep the newest and the worst of each array and kind, and stay few", () => {
    fc.assert(
      fc.property(drawn, fc.infiniteStream(fc.boolean()), (readings, rejected) => {
        const backlog = new Backlog();
        for (const one of readings) {
          backlog.keep(one);
          // A batch that is rejected comes back.
          if (rejected.next().value) for (const again of backlog.take(3)) backlog.keep(again);
        }
        const taken = backlog.take(1000);
        expect(backlog.isEmpty).toBe(true);
        for (const place of new Set(readings.map(({ kind, array }) => JSON.stringify([kind, array])))) {
          const of = (list: readonly WatchReading[]) =>
            list.filter(({ kind, array }) => JSON.stringify([kind, array]) === place);
          const [all, kept] = [of(readings), of(taken)];
          expect(kept.length).toBeLessThanOrEqual(2);
          expect(kept.at(-1)).toEqual(all.at(-1));
          const values = (list: readonly WatchReading[]) => list.map(({ value }) => Number(value));
          const { kind } = all[0]!;
          if (kind === "insulation") expect(Math.min(...values(kept))).toBe(Math.min(...values(all)));
          else expect(Math.max(...values(kept))).toBe(Math.max(...values(all)));
        }
      }),
    );
  });

  it("keep the first instant of a fault that goes on", () => {
    const backlog = new Backlog();
    for (const at of [1, 2, 3]) backlog.keep(reading("earth-fault-bit", "A1", at, 99));
    expect(backlog.take(9).map(({ at }) => at)).toEqual([1, 3]);
  });

  it("are taken out in parts, the fault before what came after it", () => {
    const backlog = new Backlog();
    backlog.keep(reading("earth-fault-bit", "A1", 1, 99));
    backlog.keep(reading("earth-fault-bit", "A2", 2, 0));
    backlog.keep(reading("earth-fault-bit", "A1", 3, 0));
    expect(backlog.take(1).map(({ at, value }) => [at, value])).toEqual([
      [1, true],
      [3, false],
    ]);
    expect(backlog.take(1)).toHaveLength(1);
  });
});
