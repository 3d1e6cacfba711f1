import { createHash } from "node:crypto";
import type { Site } from "@earthbell/engine";
import { readSite } from "@earthbell/model";
import type { Bulk } from "../store/bulk.ts";
import type { SiteTable, Writing } from "../store/index.ts";
import { arrayLimits } from "./array-limits.ts";
import { done, notDone } from "./answers.ts";
import { forgetAtBeacons } from "./beacons.ts";
import { type Draft, noteHappening } from "./draft.ts";
import { settleSite } from "./settle-site.ts";
import type { SiteDraft } from "./site-room.ts";
import { takeReadings } from "./take-readings.ts";
import type { Answer, Beacon, PutSite, WatchOptions } from "./watch.ts";

/** A site file that has been read. */
export interface ReadFile {
  readonly text: string;
  readonly site: Site;
  readonly by: string;
  readonly remarks: readonly string[];
}

export function readFile(
  text: string,
  by: string,
):
  | { readonly ok: true; readonly file: ReadFile }
  | Extract<ReturnType<typeof readSite>, { readonly ok: false }> {
  const read = readSite(text, "site file");
  if (!read.ok) return read;
  const remarks = read.warnings.map(({ code, message }) => `${code}: ${message}`);
  return { ok: true, file: { text, site: read.record, by, remarks } };
}

/** Puts a site file in: its first text, or another one in place of the one before. */
export async function putSite(
  draft: Draft,
  { text, site, by, remarks }: ReadFile,
  options: Pick<WatchOptions, "assess"> & { readonly bulk: Bulk; readonly forget: (site: string) => void },
): Promise<PutSite> {
  const { tx, now, limits } = draft;
  const before = await tx.selectFrom("site").selectAll().where("id", "=", site.id).executeTakeFirst();
  const digest = createHash("sha256").update(text).digest("hex");
  // Judging paths takes a hundred times as long as the rest, others wait for this transaction, and no detector goes by it.
  const assessment = options.assess({ ...site, paths: [] });
  const limitsJson = JSON.stringify(arrayLimits(site, assessment, limits));
  const same = before?.digest === digest && before.removed_at === null;
  // The rules may have changed where the text has not.
  if (same && before.limits_json === limitsJson)
    return { ok: true, site: site.id, revision: before.revision, unchanged: true, remarks };
  const revision = same ? before.revision : (before?.revision ?? 0) + 1;
  const row = {
    id: site.id,
    revision,
    digest,
    text,
    site_json: JSON.stringify(site),
    limits_json: limitsJson,
  };
  await storeSite(tx, {
    ...row,
    known_since: before?.known_since ?? now,
    put_at: now,
    put_by: by,
    removed_at: null,
  });
  await dropAbsent(tx, site);
  options.forget(site.id);
  draft.sites.delete(site.id);
  await draft.enter([site.id]);
  const entered = draft.sites.get(site.id)!;
  const said = same ? "Site assessed anew" : `Site file put in, revision ${revision}`;
  noteHappening(draft, {
    kind: "site",
    site: site.id,
    subject: site.id,
    by,
    text: `${said}, SHA-256 ${digest}.`,
  });
  settleSite(draft, entered, before === undefined ? null : (JSON.parse(before.site_json) as Site));
  await takeSetAside(draft, entered, options.bulk);
  entered.changed = true;
  return { ok: true, site: site.id, revision, unchanged: false, remarks };
}

async function storeSite(tx: Writing, row: SiteTable): Promise<void> {
  const { id: _, ...others } = row;
  await tx
    .insertInto("site")
    .values(row)
    .onConflict((conflict) => conflict.column("id").doUpdateSet(others))
    .execute();
}

/** What belongs to arrays and paths that the file no longer has is not watched any more. */
async function dropAbsent(tx: Writing, site: Site): Promise<void> {
  const arrays = site.arrays.map(({ id }) => id);
  const paths = site.paths.filter(({ signal }) => signal === "message").map(({ id }) => id);
  await tx.deleteFrom("detector").where("site", "=", site.id).where("array_id", "not in", arrays).execute();
  for (const table of ["path_watch", "drill_plan"] as const) {
    const own = tx.deleteFrom(table).where("site", "=", site.id);
    await (paths.length === 0 ? own : own.where("path_id", "not in", paths)).execute();
  }
}

/** Readings that came before the site was known are taken in now. */
async function takeSetAside(draft: Draft, { id }: SiteDraft, bulk: Bulk): Promise<void> {
  const rows = await draft.tx
    .selectFrom("set_aside")
    .selectAll()
    .where("site", "=", id)
    .orderBy("received_at")
    .execute();
  if (rows.length === 0) return;
  await draft.tx.deleteFrom("set_aside").where("site", "=", id).execute();
  const readings = rows.map(({ reading_json }) => JSON.parse(reading_json) as unknown);
  await takeReadings(draft, bulk, readings, () => undefined);
}

/** Ends the watch of a site; everything on record stays on record. */
export async function removeSite(
  draft: Draft,
  id: string,
  by: string,
  forget: (site: string) => void,
  beacons: readonly Beacon[],
): Promise<Answer> {
  if (by.trim() === "")
    return notDone("DESK_NAME_MISSING", "Give the name of the person who removes the site.");
  const removed = await draft.tx
    .updateTable("site")
    .set({ removed_at: draft.now })
    .where("id", "=", id)
    .where("removed_at", "is", null)
    .returning("id")
    .execute();
  if (removed.length === 0) return notDone("DESK_SITE_UNKNOWN", `There is no site ${id}.`);
  for (const table of ["next_look", "path_watch", "drill_plan"] as const)
    await draft.tx.deleteFrom(table).where("site", "=", id).execute();
  await forgetAtBeacons(draft, id, beacons);
  forget(id);
  noteHappening(draft, {
    kind: "site",
    site: id,
    subject: id,
    by,
    text: "Site removed: it is no longer watched.",
  });
  return done(`Site ${id} is no longer watched.`, {});
}
