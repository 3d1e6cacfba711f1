import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ReadingKind, WatchReading } from "@earthbell/model";
import { type DeskStore, openStore } from "../store/index.ts";
import { HOUR, MINUTE, siteText, smallDesk, type SmallDesk } from "./desk.fixture.ts";

/** What a device may say, with how late it says it. */
interface Said {
  readonly kind: ReadingKind;
  readonly value: WatchReading["value"];
  readonly quality: WatchReading["quality"];
  readonly lateMin: number;
  readonly waitMin: number;
}

const said: fc.Arbitrary<Said> = fc
  .record({
    ...{ lateMin: fc.constantFrom(0, 0, 0, 5, 90), waitMin: fc.constantFrom(0, 1, 30, 300, 1500) },
    quality: fc.constantFrom<WatchReading["quality"]>("good", "good", "good", "stale"),
    said: fc.constantFrom<readonly [ReadingKind, WatchReading["value"]]>(
      ["earth-fault-bit", true],
      ["earth-fault-bit", false],
      ["insulation", 9000],
      ["insulation", 2e6],
      ["insulation", 3e6],
      ["heartbeat", true],
    ),
  })
  .map(({ said: [kind, value], ...others }) => ({ kind, value, ...others }));

/** Two alarms on which something falls due in the same instant. */
const BOTH_STALE_AT_ONCE: Said[] = [
  { kind: "insulation", value: 9000, quality: "good", lateMin: 0, waitMin: 0 },
  { kind: "earth-fault-bit", value: true, quality: "good", lateMin: 0, waitMin: 0 },
  { kind: "earth-fault-bit", value: true, quality: "good", lateMin: 0, waitMin: 1500 },
];

async function tell(desk: SmallDesk, one: Said, key: string): Promise<void> {
  const { kind, value, quality, lateMin, waitMin } = one;
  await desk.read(kind, value, { key, quality, at: desk.clock.at - lateMin * MINUTE });
  await desk.wait(waitMin * MINUTE);
}

const TABLES = [
  "alarm",
  "fault_case",
  "last_known",
  "insulation_day",
  "delivery",
  "next_look",
  "path_watch",
  "detector",
] as const;

async function rowsOf(store: DeskStore): Promise<readonly unknown[]> {
  return Promise.all(
    TABLES.map(async (table) => [table, await store.db.selectFrom(table).selectAll().execute()]),
  );
}

describe("a watch that is made anew from its store after every reading", { timeout: 120_000 }, () => {
  it("does the same as one that went on", async () => {
    const property = fc.asyncProperty(fc.array(said, { minLength: 3, maxLength: 12 }), async (story) => {
      const straight = await smallDesk();
      const store = await openStore({ kind: "sqlite", file: ":memory:" });
      let anew = await smallDesk({ store });
      for (const desk of [straight, anew]) {
        await desk.watch.start();
        await desk.watch.putSite(siteText(), "Kim");
      }
      for (const [place, one] of story.entries()) {
        await tell(straight, one, `k${place}`);
        const { at } = anew.clock;
        anew = await smallDesk({ store });
        anew.clock.at = at;
        await tell(anew, one, `k${place}`);
      }
      expect(await rowsOf(store)).toEqual(await rowsOf(straight.store));
      await store.close();
      await straight.store.close();
    });
    await fc.assert(property, { numRuns: 15, examples: [[BOTH_STALE_AT_ONCE]] });
  });

  it("remembers an hour that no reading came in", async () => {
    const desk = await smallDesk();
    await desk.watch.start();
    await desk.watch.putSite(siteText(), "Kim");
    await desk.read("earth-fault-bit", true);
    await desk.deliver();
    const anew = await smallDesk({ store: desk.store });
    anew.clock.at = desk.clock.at;
    await anew.wait(HOUR + MINUTE);
    expect(anew.sent.map(({ kind }) => kind)).toEqual(["repeat"]);
  });
});
