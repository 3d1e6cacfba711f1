import { readSite } from "@earthbell/model";
import type { Watch } from "../watch/watch.ts";
import type { DeskParts } from "./desk-parts.ts";
import { RequestFault } from "./request-fault.ts";

interface SiteText {
  readonly site: string;
  readonly text: string;
  /** Who puts it in, as the journal names them. */
  readonly by: string;
  /** The revision that it was made from; left out: it replaces whatever there is. */
  readonly from?: number;
}

/**
 * Puts a site file in, and into the folder that the desk runs from: prepared there first, so that either both have it or
 * neither.
 *
 * @throws RequestFault REQUEST_BODY_INVALID | SITE_FILE_CHANGED
 */
export async function putSiteFile(
  { store, watch, siteFiles }: DeskParts,
  { site, text, by, from }: SiteText,
): ReturnType<Watch["putSite"]> {
  const read = readSite(text, `${site}.yaml`);
  if (read.ok && read.record.id !== site)
    throw new RequestFault(
      "REQUEST_BODY_INVALID",
      `The file is of site ${read.record.id}, the address of ${site}.`,
    );
  const row = await store.db.selectFrom("site").select("revision").where("id", "=", site).executeTakeFirst();
  if (from !== undefined && row?.revision !== from)
    throw new RequestFault(
      "SITE_FILE_CHANGED",
      `The file was made from revision ${String(from)}, and revision ${String(row?.revision ?? 0)} is here. Take the newer one and change that.`,
    );
  const prepared = read.ok ? await siteFiles?.prepare(site, text) : undefined;
  try {
    const put = await watch.putSite(text, by);
    if (put.ok) await prepared?.commit();
    else await prepared?.drop();
    return put;
  } catch (error) {
    await prepared?.drop();
    throw error;
  }
}
