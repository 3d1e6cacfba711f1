import { existsSync } from "node:fs";
import { sql } from "kysely";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openStore } from "../../apps/desk/src/store/index.ts";
import { readingOf, siteText, smallDesk, T } from "../../apps/desk/src/watch/desk.fixture.ts";
import { postgresServer, sqliteFiles } from "./databases.ts";
import { story, STORY_TABLES } from "./story.ts";

describe("a store in a file", () => {
  const databases = sqliteFiles();
  afterAll(() => databases.stop());

  it("on a full disk acknowledges nothing, and goes on once there is room", async () => {
    const store = await openStore(await databases.fresh());
    const desk = await smallDesk({ store });
    await desk.watch.start();
    await desk.watch.putSite(siteText(), "Kim");
    const { rows } = await sql<{ page_count: number }>`pragma page_count`.execute(store.db);
    const limitTo = (pages: number) => sql.raw(`pragma max_page_count = ${pages}`).execute(store.db);
    await limitTo(rows[0]!.page_count + 2);
    const many = Array.from({ length: 500 }, (_, n) =>
      readingOf("insulation", 1e6 + n, { at: T, key: `k${n}` }),
    );
    await expect(desk.watch.accept(many)).rejects.toThrow("full");
    expect(store.trouble()).toMatchObject({ code: "STORE_FULL" });
    expect(await store.db.selectFrom("reading").selectAll().execute()).toEqual([]);
    await limitTo(100_000);
    expect(await desk.watch.accept(many)).toMatchObject({ taken: 500 });
    expect((await store.checkSound()).sound).toBe(true);
    await store.close();
  });

  it("is copied right while readings come in, and never over a file that is there", async () => {
    const place = (await databases.fresh()) as { kind: "sqlite"; file: string };
    const store = await openStore(place);
    const desk = await smallDesk({ store });
    await desk.watch.start();
    await desk.watch.putSite(siteText(), "Kim");
    const copy = `${place.file}.copy`;
    const progress = { copied: false };
    const backup = store.backup(copy).then(() => {
      progress.copied = true;
    });
    let taken = 0;
    while (!progress.copied) {
      await desk.read("insulation", 1e6 + taken, { key: `k${taken}` });
      taken += 1;
      await new Promise(setImmediate);
    }
    await backup;
    await expect(store.backup(copy)).rejects.toThrow("STORE_BACKUP_EXISTS");
    const restored = await openStore({ kind: "sqlite", file: copy });
    expect(await restored.checkSound()).toEqual({ sound: true, problems: [] });
    expect(await restored.db.selectFrom("site").select("id").execute()).toEqual([{ id: "tarn" }]);
    expect(existsSync(`${copy}.part`)).toBe(false);
    await restored.close();
    await store.close();
  });
});

describe("a store on a server", () => {
  const databases = postgresServer();
  beforeAll(() => databases.start());
  afterAll(() => databases.stop());

  it("sends whoever wants a backup to the server's own tools", async () => {
    const store = await openStore(await databases.fresh());
    await expect(store.backup("copy.db")).rejects.toThrow("pg_dump");
    await store.close();
  });

  it("holds the same rows as a file after the same story", async () => {
    const files = sqliteFiles();
    const stores = [await openStore(await databases.fresh()), await openStore(await files.fresh())];
    const [onServer, inFile] = await Promise.all(stores.map(story));
    for (const table of STORY_TABLES) {
      expect(onServer![table]!.length, table).toBeGreaterThan(0);
      expect(onServer![table], table).toEqual(inFile![table]);
    }
    for (const store of stores) await store.close();
    await files.stop();
  });
});
