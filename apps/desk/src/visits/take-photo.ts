import { appendJournal, type DeskStore } from "../store/index.ts";
import { type PhotoFiles, digestOf } from "./photo-files.ts";

export interface HandedPicture {
  readonly visit: string;
  readonly site: string;
  readonly id: string;
  readonly name: string;
  readonly takenAt: number;
  readonly mediaType: string;
  readonly picture: Uint8Array;
}

/** Stores the picture first and the row that names it after, so that a row never names a picture that is not there. @returns its digest; null where another picture has this id */
export async function takePhoto(
  store: DeskStore,
  files: PhotoFiles,
  { picture, visit, site, id, name, takenAt, mediaType }: HandedPicture,
  by: string,
  now: number,
): Promise<string | null> {
  const before = await digestOnRecord(store, visit, id);
  const digest = digestOf(picture);
  if (before !== null && before !== digest) return null;
  // Also one that is on record is stored again: its file may have been lost since.
  await files.keep(picture);
  return store.amend(async (tx) => {
    const row = await tx
      .selectFrom("visit_photo")
      .select("digest")
      .where("visit", "=", visit)
      .where("id", "=", id)
      .executeTakeFirst();
    if (row !== undefined) return row.digest === digest ? digest : null;
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
    return digest;
  });
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
