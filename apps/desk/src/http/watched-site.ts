import type { DeskStore } from "../store/index.ts";
import { RequestFault } from "./request-fault.ts";

/**
 * The newest file of a site as it was read, in JSON.
 *
 * @throws RequestFault where no such site is watched
 */
export async function watchedSite({ db }: DeskStore, site: string): Promise<string> {
  const row = await db
    .selectFrom("site")
    .select("site_json")
    .where("id", "=", site)
    .where("removed_at", "is", null)
    .executeTakeFirst();
  if (row === undefined) throw unknownSite(site);
  return row.site_json;
}

export function unknownSite(site: string): RequestFault {
  return new RequestFault("REQUEST_UNKNOWN", `No site ${site} is watched here.`);
}
