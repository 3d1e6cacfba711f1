import type { RulePack, Site } from "@earthbell/engine";
import { localTime } from "@earthbell/model";
import type { Clock } from "../clock.ts";
import type { Log } from "../log.ts";
import type { DeskStore } from "../store/index.ts";
import type { Judging } from "./judging.ts";
import type { SiteStanding } from "./site-standing.ts";

interface JudgeParts {
  readonly store: DeskStore;
  readonly clock: Clock;
  readonly log: Log;
  readonly packs: () => readonly RulePack[];
  readonly judging: Judging;
}

/** Holds how every site stands, judged anew when its file changes and when a new day begins there. */
export interface SiteJudge {
  /** The newest judgement of a site, of this revision or an earlier one; null until it has been reached. */
  readonly standing: (site: string) => SiteStanding | null;
  /** The rules have changed: what was judged by them stands until it is judged anew. */
  readonly judgeAnew: () => void;
  /** Judges whatever is due, then looks again every half minute, until aborted. */
  run(signal: AbortSignal): Promise<void>;
  /** Judges whatever is due now. */
  judgeDue(signal: AbortSignal): Promise<void>;
}

/** A revision that no file has. */
const NEVER = -1;
const LOOK_EVERY_MS = 30_000;
/** An assessment takes milliseconds to tenths of a second: this many times as long the processors are left to the rest. */
const REST_SHARE = 3;

export function createSiteJudge({ store, clock, log, packs, judging }: JudgeParts): SiteJudge {
  const held = new Map<string, Held>();
  let changesOfRules = 0;

  async function judgeDue(signal: AbortSignal): Promise<void> {
    try {
      await judgeAll(signal);
    } finally {
      await judging.rest();
    }
  }

  async function judgeAll(signal: AbortSignal): Promise<void> {
    const rows = await store.db
      .selectFrom("site")
      .select(["id", "revision"])
      .where("removed_at", "is", null)
      .orderBy("id")
      .execute();
    forgetOthers(held, new Set(rows.map(({ id }) => id)));
    for (const { id, revision } of rows) {
      if (signal.aborted) return;
      const began = clock.now();
      if (isFresh(held.get(id), revision, began)) continue;
      const site = await siteOf(store, id);
      if (site === null) continue;
      const zone = site.place.timezone ?? "UTC";
      const rules = changesOfRules;
      const standing = await judging.judge({ site, onDate: localTime(began, zone).date, packs: packs() });
      held.set(id, { revision: rules === changesOfRules ? revision : NEVER, zone, standing });
      await clock.pause(REST_SHARE * (clock.now() - began), signal);
    }
  }

  return {
    standing: (site) => held.get(site)?.standing ?? null,
    judgeAnew: () => {
      changesOfRules += 1;
      for (const [id, one] of held) held.set(id, { ...one, revision: NEVER });
    },
    judgeDue,
    run: async (signal) => {
      while (!signal.aborted) {
        try {
          await judgeDue(signal);
        } catch (error) {
          log.error({ error: String(error) }, "the sites could not be judged; tried again in half a minute");
        }
        await clock.pause(LOOK_EVERY_MS, signal);
      }
    },
  };
}

interface Held {
  readonly revision: number;
  readonly zone: string;
  readonly standing: SiteStanding;
}

function isFresh(held: Held | undefined, revision: number, now: number): boolean {
  return held?.revision === revision && held.standing.onDate === localTime(now, held.zone).date;
}

function forgetOthers(held: Map<string, Held>, sites: ReadonlySet<string>): void {
  for (const id of held.keys()) if (!sites.has(id)) held.delete(id);
}

async function siteOf({ db }: DeskStore, id: string): Promise<Site | null> {
  const row = await db.selectFrom("site").select("site_json").where("id", "=", id).executeTakeFirst();
  return row === undefined ? null : (JSON.parse(row.site_json) as Site);
}
