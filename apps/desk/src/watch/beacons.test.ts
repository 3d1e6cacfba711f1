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

const held = `waiting skerry/lamp: Lit for a drill, no fault: tarn, path P1, drill D1.`;
const beside = `waiting skerry/lamp: Lit: tarn, array A1: earth fault reported. This is no drill, though one is held: tarn, path P1, drill D1.`;
const seen = { beacon: "lamp", by: "Ben Gale", seenAt: null };

describe("a drill", () => {
  it("lights the beacons of its path, until the stated time is over", async () => {
    await deskWith(LAMP, SCREEN, { ...LAMP, id: "other", shows: [{ site: "tarn", paths: ["P2"] }] });
    await desk.watch.startDrill("tarn", "P1", "Ann Lee");
    expect([await waiting("lamp"), await waiting("screen"), await waiting("other")]).toEqual([
      [held],
      [],
      [],
    ]);
    await desk.wait(HOUR - 1);
    expect(await waiting("lamp")).toEqual([held]);
    await desk.wait(1);
    expect(await waiting("lamp")).toEqual([out("skerry/lamp")]);
  });

  it("by the schedule lights them too", async () => {
    await deskWith(LAMP);
    await desk.watch.planDrill("tarn", "P1", desk.clock.at + HOUR, "Ann Lee");
    await desk.wait(HOUR);
    expect(await waiting("lamp")).toEqual([held]);
  });

  it("passes when its people have acknowledged and somebody saw the beacon, which then goes out", async () => {
    await deskWith(LAMP);
    await desk.watch.startDrill("tarn", "P1", "Ann Lee");
    expect(await desk.watch.seeBeacon("D1", seen)).toMatchObject({ ok: true });
    expect(await waiting("lamp")).toEqual([out("skerry/lamp")]);
    expect(await desk.watch.acknowledge("D1", "ann")).toMatchObject({ ok: true });
    expect(await outcomes()).toEqual(["passed"]);
  });

  it("puts the beacon out when everybody has acknowledged, and waits for who saw it burn before", async () => {
    await deskWith(LAMP);
    await desk.watch.startDrill("tarn", "P1", "Ann Lee");
    const seenAt = desk.clock.at;
    desk.clock.at += HOUR / 2;
    await desk.watch.acknowledge("D1", "ann");
    expect([await waiting("lamp"), await outcomes()]).toEqual([[out("skerry/lamp")], [null]]);
    desk.clock.at += HOUR;
    expect(await desk.watch.seeBeacon("D1", seen)).toMatchObject({
      refusal: { code: "DRILL_BEACON_NOT_LIT" },
    });
    await desk.watch.seeBeacon("D1", { ...seen, seenAt });
    expect(await outcomes()).toEqual(["passed"]);
  });

  it("of which nobody saw the beacon is missed, with an alarm about the path until a later one is passed", async () => {
    await deskWith(LAMP);
    await desk.watch.startDrill("tarn", "P1", "Ann Lee");
    await desk.watch.acknowledge("D1", "ann");
    await desk.wait(25 * HOUR);
    expect([await outcomes(), await missed()]).toEqual([["missed"], ["active"]]);
    await desk.watch.startDrill("tarn", "P1", "Ann Lee");
    await desk.watch.seeBeacon("D2", seen);
    await desk.watch.acknowledge("D2", "ann");
    expect([await outcomes(), await missed()]).toEqual([["missed", "passed"], ["clear"]]);
  });

  it("never hides a fault: one that begins meanwhile wins at once and is said again after the drill", async () => {
    await deskWith(LAMP);
    await desk.watch.startDrill("tarn", "P1", "Ann Lee");
    await desk.read("earth-fault-bit", true);
    expect(await waiting("lamp")).toEqual([beside]);
    await desk.watch.seeBeacon("D1", seen);
    expect(await waiting("lamp")).toEqual([lit("skerry/lamp")]);
  });

  it("beside a standing fault changes nothing that the beacon shows, and ends with the true state", async () => {
    await deskWith(LAMP);
    await desk.read("earth-fault-bit", true);
    await desk.watch.startDrill("tarn", "P1", "Ann Lee");
    expect(await waiting("lamp")).toEqual([beside]);
    await desk.watch.acknowledge("D1", "ann");
    expect(await waiting("lamp")).toEqual([lit("skerry/lamp")]);
  });

  it("is told anew by a desk that was started in its midst, and is over for one started after it", async () => {
    await deskWith(LAMP);
    await desk.watch.startDrill("tarn", "P1", "Ann Lee");
    await desk.store.db.deleteFrom("outbox").execute();
    await desk.watch.relight();
    expect(await waiting("lamp")).toEqual([held]);
    await desk.store.db.deleteFrom("outbox").execute();
    desk.clock.at += HOUR;
    await desk.watch.relight();
    expect(await waiting("lamp")).toEqual([out("skerry/lamp")]);
  });
});

async function outcomes(): Promise<readonly (string | null)[]> {
  const rows = await desk.store.db.selectFrom("drill").select("outcome").orderBy("id").execute();
  return rows.map(({ outcome }) => outcome);
}

/** The alarms about the path of which a beacon was not seen. */
async function missed(): Promise<readonly string[]> {
  const rows = await desk.store.db
    .selectFrom("alarm")
    .select("condition")
    .where("sign", "=", "drill-missed")
    .where("person", "is", null)
    .execute();
  return rows.map(({ condition }) => condition);
}
