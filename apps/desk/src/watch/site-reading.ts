import type { WatchReading } from "@earthbell/model";
import type { SiteDraft } from "./site-room.ts";

/** A reading of a site that is known, dated, with its site. */
export interface SiteReading {
  readonly reading: WatchReading;
  readonly site: SiteDraft;
}
