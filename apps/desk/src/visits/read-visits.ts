import type { HandedVisit } from "@earthbell/model";
import type { Visit } from "@earthbell/engine";
import type { Asking } from "../store/index.ts";
import { entryOf } from "./take-entries.ts";

/** A visit with everybody's entries; null where none of this id was handed over. */
export async function readHanded(db: Asking, id: string): Promise<HandedVisit | null> {
  const row = await db.selectFrom("visit").selectAll().where("id", "=", id).executeTakeFirst();
  if (row === undefined) return null;
  const entries = await db
    .selectFrom("visit_entry")
    .select(["by", "entry_json"])
    .where("visit", "=", id)
    .orderBy("received_at")
    .orderBy("id")
    .execute();
  const photos = await db
    .selectFrom("visit_photo")
    .selectAll()
    .where("visit", "=", id)
    .orderBy("taken_at")
    .execute();
  return {
    id: row.id,
    title: row.title,
    site: row.site,
    case: row.case_id,
    begunAt: row.begun_at,
    setUp: JSON.parse(row.set_up_json) as Visit,
    by: row.by,
    entries: entries.map(entryOf),
    photos: photos.map((photo) => ({
      id: photo.id,
      name: photo.name,
      takenAt: photo.taken_at,
      mediaType: photo.media_type,
      bytes: photo.bytes,
      digest: photo.digest,
      by: photo.by,
    })),
  };
}

export interface HandedLine {
  readonly id: string;
  readonly title: string;
  readonly site: string;
  readonly case: string | null;
  readonly begunAt: number;
  readonly by: string;
  readonly entries: number;
}

/** Visits that were handed over, the newest first. */
export async function listHanded(
  db: Asking,
  only: { readonly site?: string | undefined; readonly case?: string | undefined },
  limit: number,
): Promise<readonly HandedLine[]> {
  let query = db
    .selectFrom("visit")
    .leftJoin("visit_entry", "visit_entry.visit", "visit.id")
    .select(["visit.id", "visit.title", "visit.site", "visit.case_id", "visit.begun_at", "visit.by"])
    .select((of) => of.fn.count<number>("visit_entry.id").as("entries"))
    .groupBy(["visit.id", "visit.title", "visit.site", "visit.case_id", "visit.begun_at", "visit.by"])
    .orderBy("visit.begun_at", "desc")
    .limit(limit);
  if (only.site !== undefined) query = query.where("visit.site", "=", only.site);
  if (only.case !== undefined) query = query.where("visit.case_id", "=", only.case);
  return (await query.execute()).map(({ case_id, begun_at, ...row }) => ({
    ...row,
    case: case_id,
    begunAt: begun_at,
  }));
}
