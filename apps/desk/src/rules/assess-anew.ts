import type { Log } from "../log.ts";
import type { DeskStore } from "../store/index.ts";
import type { Watch } from "../watch/index.ts";

interface Parts {
  readonly store: DeskStore;
  readonly watch: Watch;
  readonly log: Log;
}

/** What detectors go by is worked out from rules and limits: when those change, every site is put in once more, as it is. */
export async function assessAnew({ store, watch, log }: Parts, by: string): Promise<void> {
  const sites = await store.db
    .selectFrom("site")
    .select(["id", "text"])
    .where("removed_at", "is", null)
    .execute();
  for (const { id, text } of sites) {
    const put = await watch.putSite(text, by);
    if (!put.ok)
      log.error({ site: id }, "a site could not be assessed anew after a change of rules or limits");
  }
}
