import { type PathWatch, watchPath } from "@earthbell/model";
import { sql } from "kysely";
import type { Writing } from "../store/index.ts";
import { type Draft, noteHappening } from "./draft.ts";
import { tellKeepers } from "./notices.ts";
import type { Telling } from "./occasions.ts";

/** A gap shorter than this is a restart: devices that send now and then have missed nothing by it. */
const GAP_MS = 60_000;

export interface Started {
  /** The last instant at which the desk is known to have been at work, where it has not been since; null for a new desk. */
  readonly silentSinceAt: number | null;
  /** It was stopped in order. */
  readonly clean: boolean;
}

/** Begins to watch: says what may have been missed, and gives every path the time that it needs to be heard again. */
export async function startUp(draft: Draft, telling: Telling): Promise<Started> {
  const { tx, now } = draft;
  const heartbeat = await readMark(tx, "heartbeat");
  const clean = heartbeat === null || (await readMark(tx, "stopped")) === 1;
  await writeMark(tx, "stopped", 0);
  await writeMark(tx, "heartbeat", now);
  noteHappening(draft, { kind: "watch", site: null, subject: "start", by: null, text: "The watch begins." });
  if (heartbeat === null) return { silentSinceAt: null, clean };
  const gap = now - heartbeat;
  if (!clean) await tellOfGap(draft, telling, heartbeat);
  if (gap >= GAP_MS)
    await renewWatches(tx, now, ({ deadlineAt }) => deadlineAt !== null && deadlineAt >= heartbeat);
  // Every site is looked at afresh: what was due meanwhile, and what a newer version decides otherwise.
  await tx.updateTable("next_look").set({ at: now }).where("at", ">", now).execute();
  return { silentSinceAt: heartbeat, clean };
}

async function tellOfGap(draft: Draft, telling: Telling, lastAtWorkAt: number): Promise<void> {
  const notice = { about: "unclean-stop", lastAtWorkAt, startedAt: draft.now } as const;
  await tellKeepers(draft, telling, notice, `unclean stop after ${new Date(lastAtWorkAt).toISOString()}`);
}

/**
 * The clock went back: what is dated ahead of it is looked at now instead of waiting for the clock to catch up, and paths owe
 * their sign of life from now on.
 */
export async function clockWentBack(draft: Draft, telling: Telling, from: number): Promise<void> {
  const { tx, now } = draft;
  const text = `The clock of the desk went back from ${new Date(from).toISOString()} to ${new Date(now).toISOString()}. Check how it is set.`;
  const notice = { about: "notice", notice: "clock-went-back", text, at: now } as const;
  await tellKeepers(draft, telling, notice, `clock back from ${new Date(from).toISOString()}`);
  await renewWatches(tx, now, ({ lastLifeAt }) => lastLifeAt > now);
  await tx.updateTable("next_look").set({ at: now }).where("at", ">", now).execute();
  await writeMark(tx, "heartbeat", now);
}

/** Paths that nobody could hear were not silent: each owes its next sign of life within one interval from now. */
async function renewWatches(tx: Writing, now: number, which: (watch: PathWatch) => boolean): Promise<void> {
  const rows = await tx.selectFrom("path_watch").selectAll().where("silent", "=", 0).execute();
  for (const { watch_json } of rows) {
    const watch = JSON.parse(watch_json) as PathWatch;
    if (!which(watch)) continue;
    const renewed = watchPath({ site: watch.site, path: watch.path }, watch.lifeEveryMin, now);
    await tx
      .updateTable("path_watch")
      .set({ deadline_at: renewed.deadlineAt, watch_json: JSON.stringify(renewed) })
      .where("site", "=", watch.site)
      .where("path_id", "=", watch.path)
      .execute();
  }
}

async function readMark(tx: Writing, name: string): Promise<number | null> {
  const row = await tx.selectFrom("mark").select("value").where("name", "=", name).executeTakeFirst();
  return row?.value ?? null;
}

export async function writeMark(tx: Writing, name: string, value: number): Promise<void> {
  await tx
    .insertInto("mark")
    .values({ name, value })
    .onConflict((conflict) => conflict.column("name").doUpdateSet({ value: sql`excluded.value` }))
    .execute();
}
