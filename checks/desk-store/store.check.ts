import { sql } from "kysely";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createOutboxWorker } from "../../apps/desk/src/outbox/index.ts";
import {
  appendJournal,
  type DeskStore,
  openStore,
  type StorePlace,
} from "../../apps/desk/src/store/index.ts";
import type { Channel } from "../../apps/desk/src/tell/channel.ts";
import { siteText, smallDesk, T } from "../../apps/desk/src/watch/desk.fixture.ts";
import { postgresServer, sqliteFiles } from "./databases.ts";

const happening = { at: 1, kind: "watch", site: null, subject: null, by: null, text: "something" };
const readingRow = (key: string) => ({
  ...{ site: "s", array_id: "", device: "d", source: "l", kind: "insulation", at: T },
  ...{ value_number: 0.1 + 0.2, value_word: null, quality: "good", key, received_at: T },
});

describe.each([sqliteFiles(), postgresServer()])("the store on $kind", (databases) => {
  const open: DeskStore[] = [];
  beforeAll(() => databases.start());
  afterAll(async () => {
    for (const store of open) await store.close();
    await databases.stop();
  });

  async function opened(place?: StorePlace): Promise<DeskStore> {
    const store = await openStore(place ?? (await databases.fresh()));
    open.push(store);
    return store;
  }

  /** Two processes at one server; at one file, two parts of one process. */
  async function bothOf(place: StorePlace): Promise<readonly DeskStore[]> {
    const first = await opened(place);
    return [first, place.kind === "sqlite" ? first : await opened(place)];
  }

  it("is opened a second time as it was left", async () => {
    const place = await databases.fresh();
    const first = await opened(place);
    await first.write((tx) => appendJournal(tx, [happening]));
    const second = await opened(place);
    expect(await second.db.selectFrom("journal").select("text").execute()).toEqual([{ text: "something" }]);
  });

  it("stores all of a transaction or nothing, and numbers only what it stored", async () => {
    const store = await opened();
    expect(await store.write((_, pen) => Promise.resolve(pen))).toBe(1);
    const failing = store.write(async (tx) => {
      await appendJournal(tx, [happening]);
      throw new Error("power failed");
    });
    await expect(failing).rejects.toThrow("power failed");
    expect(await store.db.selectFrom("journal").selectAll().execute()).toEqual([]);
    expect(await store.write((_, pen) => Promise.resolve(pen))).toBe(2);
  });

  it("lets one writing wait for the other, and every writing see the one before", async () => {
    const place = await databases.fresh();
    const stores = await bothOf(place);
    const pens = await Promise.all(
      Array.from({ length: 20 }, (_, n) => stores[n % 2]!.write((_tx, pen) => Promise.resolve(pen))),
    );
    expect(pens.toSorted((one, other) => one - other)).toEqual(Array.from({ length: 20 }, (_, n) => n + 1));
  });

  it("adds a reading once, whatever else comes with it, and keeps every bit of its number", async () => {
    const store = await opened();
    const keys = (names: readonly string[]) =>
      store.amend((tx) => store.bulk.addReadings(tx, names.map(readingRow)));
    expect([...(await keys(["a", "b", "a"]))].toSorted()).toEqual(["a", "b"]);
    const many = Array.from({ length: 150 }, (_, n) => `key ${n}`);
    expect([...(await keys(["b", ...many]))].toSorted()).toEqual(many.toSorted());
    const row = await store.db.selectFrom("reading").selectAll().where("key", "=", "a").executeTakeFirst();
    expect(row).toEqual(readingRow("a"));
  });

  it("puts a row over the one with the same key", async () => {
    const store = await opened();
    const put = (site: string, at: number) =>
      store.amend((tx) => store.bulk.put(tx, "next_look", [{ site, at }]));
    await put("a", 1);
    await put("b", 2);
    await put("a", 3);
    expect(await store.db.selectFrom("next_look").selectAll().orderBy("site").execute()).toEqual([
      { site: "a", at: 3 },
      { site: "b", at: 2 },
    ]);
  });

  it("has no second open case of one array", async () => {
    const store = await opened();
    const add = (id: string, closed_at: number | null) =>
      store.db
        .insertInto("fault_case")
        .values({ id, site: "s", array_id: "A1", opened_at: 1, closed_at, case_json: "{}" })
        .execute();
    await add("C1", 5);
    await add("C2", null);
    await add("C3", 6);
    await expect(add("C4", null)).rejects.toThrow(/unique/iu);
  });

  it("sees a journal row that was changed, lost or put in", async () => {
    const store = await opened();
    await store.write((tx) =>
      appendJournal(
        tx,
        Array.from({ length: 120 }, () => happening),
      ),
    );
    expect(await store.checkSound()).toEqual({ sound: true, problems: [] });
    await store.db.updateTable("journal").set({ text: "nothing" }).where("sequence", "=", 77).execute();
    expect((await store.checkSound()).problems).toEqual(["The journal does not hold from row 77 on."]);
    await store.db.deleteFrom("journal").where("sequence", ">", 76).execute();
    expect((await store.checkSound()).problems).toEqual(["The journal does not hold from row 77 on."]);
  });

  it("gives each message to one of the workers that ask at the same time", async () => {
    const place = await databases.fresh();
    const stores = await bothOf(place);
    await fillOutbox(stores[0]!, 60);
    const sent: string[] = [];
    const channel: Channel = {
      kind: "email",
      send: async ({ key }) => {
        sent.push(key);
        await new Promise(setImmediate);
        return { outcome: "accepted", reply: "250" };
      },
      close: () => Promise.resolve(),
    };
    const quiet = { info: () => undefined, warn: () => undefined, error: () => undefined };
    const clock = { now: () => T, pause: () => new Promise<void>(() => undefined) };
    await Promise.all(
      stores.map((store, n) =>
        createOutboxWorker({ store, clock, log: quiet, channels: [channel], name: `w${n}` }).sendDue(),
      ),
    );
    expect(sent).toHaveLength(60);
    expect(new Set(sent).size).toBe(60);
    const states = await stores[0]!.db.selectFrom("outbox").select("state").distinct().execute();
    expect(states).toEqual([{ state: "sent" }]);
  });

  it("shows one watch what another has written since", async () => {
    const place = await databases.fresh();
    const [one, other] = [
      await smallDesk({ store: await opened(place) }),
      await smallDesk({ store: await opened(place) }),
    ];
    await one.watch.start();
    await one.watch.putSite(siteText(), "Kim");
    await one.read("earth-fault-bit", true, { key: "1" });
    other.clock.at = T + 60_000;
    await other.read("earth-fault-bit", false, { key: "2" });
    one.clock.at = T + 120_000;
    await one.read("earth-fault-bit", true, { key: "3" });
    const alarms = await one.store.db.selectFrom("alarm").select(["occurrence", "condition"]).execute();
    expect(alarms).toEqual([{ occurrence: 2, condition: "active" }]);
  });

  it("that cannot be written acknowledges nothing, says so, and goes on afterwards", async () => {
    const place = await databases.fresh();
    const store = await opened(place.kind === "postgres" ? { ...place, maxConnections: 1 } : place);
    const desk = await smallDesk({ store });
    await desk.watch.start();
    await desk.watch.putSite(siteText(), "Kim");
    const set = (on: boolean) =>
      (place.kind === "sqlite"
        ? sql.raw(`pragma query_only = ${on ? 1 : 0}`)
        : sql.raw(`set session characteristics as transaction ${on ? "read only" : "read write"}`)
      ).execute(store.db);
    await set(true);
    await expect(desk.read("earth-fault-bit", true, { key: "1" })).rejects.toThrow(/read-?only/u);
    expect(store.trouble()).toMatchObject({ code: "STORE_READ_ONLY" });
    expect(await store.db.selectFrom("alarm").selectAll().execute()).toEqual([]);
    await set(false);
    expect(await desk.read("earth-fault-bit", true, { key: "1" })).toMatchObject({ taken: 1, known: 0 });
    expect(store.trouble()).toBeNull();
    await desk.deliver();
    expect(desk.sent.map(({ person }) => person)).toEqual(["ann"]);
    expect((await store.checkSound()).sound).toBe(true);
  });
});

async function fillOutbox(store: DeskStore, count: number): Promise<void> {
  const desk = await smallDesk({ store });
  await desk.watch.start();
  for (let n = 0; n < count; n++) {
    const row = {
      ...{ key: `m${n}`, channel: "email", address: "a@example.org", person: "ann", site: "s", matter: "C1" },
      ...{
        kind: "first",
        sequence: 1,
        state: "waiting" as const,
        reason: "",
        written_at: T,
        due_at: T,
        attempts: 0,
      },
      ...{ lease_until: null, claimed_by: null, finished_at: null, reply: null },
    };
    const { key, address, person, site, matter } = row;
    const envelope = {
      key,
      channel: "email",
      address,
      person,
      site,
      matter,
      kind: "first",
      sequence: 1,
      subject: "",
      text: "",
      writtenAt: T,
    };
    await store.db
      .insertInto("outbox")
      .values({ ...row, envelope_json: JSON.stringify(envelope) })
      .execute();
  }
}
