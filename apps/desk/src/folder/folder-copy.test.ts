import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { storeFileIn } from "../start/store-place-of.ts";
import { type DeskStore, openStore } from "../store/index.ts";
import { photoFolder } from "../visits/photo-files.ts";
import { copyOut, takeBack } from "./folder-copy.ts";

let place: string;
let folder: string;
let copy: string;
let store: DeskStore;
beforeEach(async () => {
  place = mkdtempSync(join(tmpdir(), "earthbell-copy-"));
  [folder, copy] = [join(place, "desk"), join(place, "copy")];
  for (const name of ["sites", "secrets", "photos"]) mkdirSync(join(folder, name), { recursive: true });
  write(
    "desk.yaml",
    "format: earthbell.desk/1\ndesk: {name: Skerry}\ndatabase: {kind: sqlite, file: kept.db}\n",
  );
  write("sites/tarn.yaml", "a site file");
  write("secrets/mail", "s3cret");
  chmodSync(join(folder, "secrets"), 0o700);
  chmodSync(join(folder, "secrets", "mail"), 0o400);
  for (const name of ["desk.lock", "beat", "sites/fell.yaml.part"]) write(name, "of the moment");
  symlinkSync("secrets/mail", join(folder, "mail-password"));
  store = await openStore({ kind: "sqlite", file: join(folder, "kept.db") });
});
afterEach(async () => {
  await store.close();
  rmSync(place, { recursive: true, force: true });
});

function write(name: string, text: string): void {
  writeFileSync(join(folder, name), text);
}

const from = () => ({ folder, storeFile: join(folder, "kept.db") });
const modeOf = (path: string) => statSync(path).mode & 0o777;

async function addPhoto(id: string): Promise<void> {
  const picture = Buffer.from(`picture ${id}`);
  const digest = await photoFolder(join(folder, "photos")).keep(picture);
  await store.db
    .insertInto("visit_photo")
    .values({
      ...{ visit: "V1", id, name: `${id}.jpg`, taken_at: 1, media_type: "image/jpeg" },
      ...{ bytes: picture.length, digest, by: "Ann Lee", received_at: 1 },
    })
    .execute();
}

describe("a copy of a desk's folder", () => {
  it("holds every photo that its store knows of, though more are taken while it is made", async () => {
    const copying = new AbortController();
    let taken = 0;
    const taking = (async () => {
      while (!copying.signal.aborted) await addPhoto(`photo-${String((taken += 1))}`);
    })();
    await copyOut(store, from(), copy);
    copying.abort();
    await taking;
    const copied = await openStore({ kind: "sqlite", file: join(copy, "desk.db") });
    const rows = await copied.db.selectFrom("visit_photo").select("digest").execute();
    await copied.close();
    const photos = photoFolder(join(copy, "photos"));
    for (const { digest } of rows) expect(await photos.read(digest)).not.toBeNull();
    expect(taken).toBeGreaterThan(0);
    expect(rows.length).toBeLessThanOrEqual(taken);
  });

  it("keeps modes and links, is closed to others, and leaves out what belongs to the desk that runs", async () => {
    await copyOut(store, from(), copy);
    expect(readdirSync(copy).toSorted()).toEqual(
      ["desk.db", "desk.yaml", "mail-password", "photos", "secrets", "sites"].toSorted(),
    );
    expect(readdirSync(join(copy, "sites"))).toEqual(["tarn.yaml"]);
    expect([modeOf(join(copy, "secrets")), modeOf(join(copy, "secrets", "mail"))]).toEqual([0o700, 0o400]);
    expect(modeOf(join(copy, "desk.db"))).toBe(0o600);
    expect(readFileSync(join(copy, "mail-password"), "utf8")).toBe("s3cret");
  });

  it("is not made over another one, nor inside the folder itself", async () => {
    await copyOut(store, from(), copy);
    await expect(copyOut(store, from(), copy)).rejects.toMatchObject({ code: "DESK_COPY_EXISTS" });
    const inside = join(folder, "copies", "today");
    await expect(copyOut(store, from(), inside)).rejects.toMatchObject({ code: "DESK_COPY_INSIDE" });
    expect(existsSync(join(folder, "copies"))).toBe(false);
  });

  it("says that it cannot be made, inside a file or where the system lets none be made", async () => {
    writeFileSync(join(place, "file"), "");
    for (const to of [join(place, "file", "copy"), "/proc/copy"])
      await expect(copyOut(store, from(), to)).rejects.toMatchObject({ code: "DESK_FOLDER_UNUSABLE" });
  });
});

describe("taking a copy back", () => {
  it("makes the folder what it was, with the store where the settings want it", async () => {
    await addPhoto("photo-1");
    await copyOut(store, from(), copy);
    const back = join(place, "back");
    await takeBack(copy, back, storeFileIn);
    expect(readdirSync(back).toSorted()).toEqual(
      ["desk.yaml", "kept.db", "mail-password", "photos", "secrets", "sites"].toSorted(),
    );
    expect(modeOf(join(back, "secrets", "mail"))).toBe(0o400);
    const restored = await openStore({ kind: "sqlite", file: join(back, "kept.db") });
    expect(await restored.db.selectFrom("visit_photo").select("id").execute()).toEqual([{ id: "photo-1" }]);
    await restored.close();
  });

  it("leaves the running store out as well where the folder was named from here and the store in full", async () => {
    await copyOut(store, { ...from(), folder: relative(process.cwd(), folder) }, copy);
    expect(readdirSync(copy)).not.toContain("kept.db");
  });

  it("writes over nothing that is there", async () => {
    await copyOut(store, from(), copy);
    const taken = takeBack(copy, folder, storeFileIn);
    await expect(taken).rejects.toMatchObject({ code: "DESK_FOLDER_NOT_EMPTY" });
    expect(readFileSync(join(folder, "beat"), "utf8")).toBe("of the moment");
  });

  it.each(["missing", "damaged"])(
    "leaves the folder empty where the store of the copy is %s",
    async (how) => {
      await copyOut(store, from(), copy);
      if (how === "missing") rmSync(join(copy, "desk.db"));
      else
        writeFileSync(
          join(copy, "desk.db"),
          "no database, but long enough to be looked at as one".repeat(99),
        );
      const back = join(place, "back");
      await expect(takeBack(copy, back, storeFileIn)).rejects.toMatchObject({ code: "DESK_COPY_UNSOUND" });
      expect(readdirSync(back)).toEqual([]);
    },
  );
});
