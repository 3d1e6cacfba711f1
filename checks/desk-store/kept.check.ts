import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { makeOwnerLink, openOwnerLink, revokeOwnerLink } from "../../apps/desk/src/accounts/owner-links.ts";
import { appendJournal, journalBefore, openStore } from "../../apps/desk/src/store/index.ts";
import { siteText, smallDesk } from "../../apps/desk/src/watch/desk.fixture.ts";
import { postgresServer, sqliteFiles } from "./databases.ts";

/** What the desk keeps beside the watch's own records, on both databases alike. */
describe.each([sqliteFiles(), postgresServer()])("on $kind", (databases) => {
  beforeAll(() => databases.start(), 120_000);
  afterAll(() => databases.stop(), 60_000);

  it("a beacon is lit, put out and told anew, each message in the place of the one before", async () => {
    const store = await openStore(await databases.fresh());
    const desk = await smallDesk({ store, beacons: [{ id: "lamp", topic: "skerry/lamp" }] });
    const waiting = async () => {
      const rows = await store.db
        .selectFrom("outbox")
        .select("reason")
        .where("person", "=", "lamp")
        .execute();
      return rows.map(({ reason }) => reason);
    };
    await desk.watch.start();
    await desk.watch.putSite(siteText(), "Ann Lee");
    await desk.read("earth-fault-bit", true);
    expect(await waiting()).toEqual(["Lit: tarn, array A1: earth fault reported."]);
    await desk.watch.relight();
    expect(await waiting()).toEqual(["Lit: tarn, array A1: earth fault reported."]);
    desk.clock.at += 60_000;
    await desk.read("earth-fault-bit", false);
    expect(await waiting()).toEqual(["Out: no earth fault that it shows is there."]);
    await desk.read("residual-trip", true);
    await desk.watch.removeSite("tarn", "Ann Lee");
    expect(await waiting()).toEqual(["Out: no earth fault that it shows is there."]);
    await store.close();
  });

  it("the journal is looked through by words as they stand", async () => {
    const store = await openStore(await databases.fresh());
    const texts = ["took 100% of_it", "Took all of it", "back\\slash"];
    const rows = texts.map((text, n) => ({
      at: n,
      kind: "case",
      site: null,
      subject: null,
      by: "Ann Lee",
      text,
    }));
    await store.amend((tx) => appendJournal(tx, rows));
    const found = async (holds: string) =>
      (await journalBefore(store.db, null, 10, { by: "Ann Lee", kind: "case", holds })).map(
        ({ text }) => text,
      );
    expect(await found("TOOK")).toEqual(["Took all of it", "took 100% of_it"]);
    expect([await found("0%"), await found("f_i"), await found("k\\s")]).toEqual([
      [texts[0]],
      [texts[0]],
      [texts[2]],
    ]);
    await store.close();
  });

  it("an owner's link opens until it is revoked, and is kept as a hash", async () => {
    const store = await openStore(await databases.fresh());
    const step = { by: "Ann Lee", at: 1000 };
    const token = await makeOwnerLink(store, { label: "owner", sites: ["tarn"], days: 1 }, step);
    const link = (await openOwnerLink(store, token, 2000))!;
    expect(link).toMatchObject({ label: "owner", sites_json: '["tarn"]', expires_at: 86_401_000 });
    expect(JSON.stringify(link)).not.toContain(token);
    expect(await openOwnerLink(store, token, 86_401_000)).toBeNull();
    expect([
      await revokeOwnerLink(store, link.id, step),
      await revokeOwnerLink(store, link.id, step),
    ]).toEqual([true, false]);
    expect(await openOwnerLink(store, token, 2000)).toBeNull();
    await store.close();
  });
});
