import { appendJournal, type Asking, type DeskStore } from "../store/index.ts";
import { type PhotoFiles, digestOf } from "./photo-files.ts";
import { fullWords, MOST_PHOTOS } from "./visit-room.ts";

export interface HandedPicture {
  readonly visit: string;
  readonly site: string;
  readonly id: string;
  readonly name: string;
  readonly takenAt: number;
  readonly mediaType: string;
  readonly picture: Uint8Array;
}

export type PhotoTaken =
  | { readonly ok: true; readonly digest: string }
  | { readonly ok: false; readonly code: "PHOTO_DIFFERS" | "VISIT_FULL"; readonly text: string };

/** Stores the picture first and the row that names it after, so that a row never names a picture that is not there. */
export async function takePhoto(
  store: DeskStore,
  files: PhotoFiles,
  { picture, visit, site, id, name, takenAt, mediaType }: HandedPicture,
  by: string,
  now: number,
): Promise<PhotoTaken> {
  const taken = { ok: true, digest: digestOf(picture) } as const;
  const before = await digestOnRecord(store, visit, id);
  const { digest } = taken;
  if (before !== null && before !== digest) return differs(id);
  if (before === null && (await photosOf(store.db, visit)) >= MOST_PHOTOS) return full(visit);
  // Also one that is on record is stored again: its file may have been lost since.
  await files.keep(picture);
  return store.amend(async (tx) => {
    const row = await tx
      .selectFrom("visit_photo")
      .select("digest")
      .where("visit", "=", visit)
      .where("id", "=", id)
      .executeTakeFirst();
    if (row !== undefined) return row.digest === digest ? taken : differs(id);
    if ((await photosOf(tx, visit)) >= MOST_PHOTOS) return full(visit);
    await tx
      .insertInto("visit_photo")
      .values({
        visit,
        id,
        name,
        taken_at: takenAt,
        media_type: mediaType,
        bytes: picture.length,
        digest,
        by,
        received_at: now,
      })
      .execute();
    const text = `${by} added photo ${name} to visit ${visit}.`;
    await appendJournal(tx, [{ at: now, kind: "visit", site, subject: visit, by, text }]);
    return taken;
  });
}

function differs(id: string): PhotoTaken {
  return { ok: false, code: "PHOTO_DIFFERS", text: `Photo ${id} is on record as another picture.` };
}

function full(visit: string): PhotoTaken {
  return { ok: false, code: "VISIT_FULL", text: fullWords(visit, MOST_PHOTOS, "photos") };
}

async function photosOf(db: Asking, visit: string): Promise<number> {
  const { count } = await db
    .selectFrom("visit_photo")
    .select((eb) => eb.fn.countAll<number | string>().as("count"))
    .where("visit", "=", visit)
    .executeTakeFirstOrThrow();
  return Number(count);
}

async function digestOnRecord({ db }: DeskStore, visit: string, id: string): Promise<string | null> {
  const row = await db
    .selectFrom("visit_photo")
    .select("digest")
    .where("visit", "=", visit)
    .where("id", "=", id)
    .executeTakeFirst();
  return row?.digest ?? null;
}
