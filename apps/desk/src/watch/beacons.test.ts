import { afterEach, describe, expect, it } from "vitest";
import { HOUR, siteText, type SmallDesk, smallDesk } from "./desk.fixture.ts";
import type { Beacon } from "./watch.ts";

const LAMP: Beacon = { id: "lamp", topic: "skerry/lamp", shows: [{ site: "tarn", paths: ["P1"] }] };
const SCREEN: Beacon = { id: "screen", topic: "skerry/screen" };
let desk: SmallDesk;
afterEach(() => desk.store.close());

/** What waits for each beacon, in words; `null` where nothing does. */
async function waiting(beacon: string): Promise<readonly string[]> {
  const rows = await desk.store.db
    .selectFrom("outbox")
    .select(["address", "reason", "state"])
    .where("channel", "=", "mqtt")
    .where("person", "=", beacon)
    .orderBy("sequence")
    .execute();
  return rows.map(({ address, reason, state }) => `${state} ${address}: ${reason}`);
}

const lit = (topic: string) => `waiting ${topic}: Lit: tarn, array A1: earth fault reported.`;
const out = (topic: string) => `waiting ${topic}: Out: no earth fault that it shows is there.`;

async function deskWith(...beacons: readonly Beacon[]): Promise<void> {
  desk = await smallDesk({ beacons });
  await desk.watch.start();
  await desk.watch.putSite(siteText(), "Ann Lee");
}

describe("beacons", () => {
  it("are lit in the transaction of the reading, by the fault of their arrays", async () => {
    await deskWith(LAMP, SCREEN, { ...LAMP, id: "other", shows: [{ site: "fell" }] });
    await desk.read("earth-fault-bit", true);
    expect(await waiting("lamp")).toEqual([lit("skerry/lamp")]);
    expect(await waiting("screen")).toEqual([lit("skerry/screen")]);
    expect(await waiting("other")).toEqual([]);
  });

  it("are put out when the fault has gone; what was not handed over before is outdated", async () => {
    await deskWith(LAMP);
    await desk.read("earth-fault-bit", true);
    desk.clock.at += HOUR;
    await desk.read("earth-fault-bit", false);
    expect(await waiting("lamp")).toEqual([out("skerry/lamp")]);
  });

  it("stay lit by an acknowledged fault, and are not told again of what they show", async () => {
    await deskWith(LAMP);
    await desk.read("earth-fault-bit", true);
    await desk.watch.acknowledge("C1", "Ann Lee");
    await desk.wait(3 * HOUR);
    expect(await waiting("lamp")).toEqual([lit("skerry/lamp")]);
  });

  it("are out while the array is worked on, and lit again when the time for it is over", async () => {
    await deskWith(LAMP);
    await desk.read("earth-fault-bit", true);
    const alarm = (await desk.store.db.selectFrom("alarm").select("id").executeTakeFirstOrThrow()).id;
    const untilAt = desk.clock.at + HOUR;
    const step = { type: "begin-maintenance", by: "Ann Lee", reason: "repair", untilAt } as const;
    await desk.watch.stepAlarm(alarm, step);
    expect(await waiting("lamp")).toEqual([out("skerry/lamp")]);
    await desk.wait(HOUR);
    expect(await waiting("lamp")).toEqual([lit("skerry/lamp")]);
  });

  it("are told anew at a start, whatever the broker has kept", async () => {
    await deskWith(LAMP, SCREEN);
    await desk.read("earth-fault-bit", true);
    await desk.store.db.deleteFrom("outbox").execute();
    await desk.watch.relight();
    expect([await waiting("lamp"), await waiting("screen")]).toEqual([
      [lit("skerry/lamp")],
      [lit("skerry/screen")],
    ]);
  });

  it("forget a site that is no longer watched", async () => {
    await deskWith(LAMP);
    await desk.read("earth-fault-bit", true);
    await desk.watch.removeSite("tarn", "Ann Lee");
    expect(await waiting("lamp")).toEqual([out("skerry/lamp")]);
  });
});
