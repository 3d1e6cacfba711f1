import type { WatchLimits } from "@earthbell/model";
import type { Happening, Writing } from "../store/index.ts";
import type { SiteDraft } from "./site-room.ts";

/** Numbers that ids are made of; part of what the store keeps. */
export interface Counters {
  cases: number;
  drills: number;
}

/** One transaction of the watch: what it has read, and what it will store. */
export interface Draft {
  readonly tx: Writing;
  readonly now: number;
  readonly limits: WatchLimits;
  readonly counters: Counters;
  /** By id. */
  readonly sites: Map<string, SiteDraft>;
  readonly happenings: Happening[];
  /** Keys of device readings that began a drill, by drill. */
  readonly drillReadings: Map<string, string>;
  /** Reads these sites into the draft; those that are not known stay out. */
  readonly enter: (ids: readonly string[]) => Promise<void>;
}

/** Notes that something happened, dated by now unless said otherwise. */
export function noteHappening(draft: Draft, what: Omit<Happening, "at"> & { readonly at?: number }): void {
  draft.happenings.push({ at: draft.now, ...what });
}
