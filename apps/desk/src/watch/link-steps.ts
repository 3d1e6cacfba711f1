import { SIGNS, type Told } from "@earthbell/model";
import type { Asking, OutboxCoverTable } from "../store/index.ts";
import { done, notDone } from "./answers.ts";
import type { Draft } from "./draft.ts";
import { findMatter } from "./find-matter.ts";
import { tokenHash } from "../token.ts";
import type { Telling } from "./occasions.ts";
import { acknowledgeAlarms, answerDrill } from "./person-steps.ts";
import type { SiteDraft } from "./site-room.ts";
import type { Answer, LinkView } from "./watch.ts";

/** What a link stands for; looking at it changes nothing. Null for a link that was never issued. */
export async function viewLink(db: Asking, token: string, now: number): Promise<LinkView | null> {
  const link = await linkOf(db, token);
  if (link === undefined) return null;
  const covers = await coversOf(db, link.outbox_key);
  const state = link.used_at !== null ? "used" : now >= link.expires_at ? "expired" : "open";
  return {
    state,
    person: link.person,
    sites: [...new Set(covers.map(({ site }) => site))],
    lines: await linesOf(db, covers),
    expiresAt: link.expires_at,
    usedAt: link.used_at,
  };
}

function linkOf(db: Asking, token: string) {
  return db.selectFrom("ack_link").selectAll().where("token_hash", "=", tokenHash(token)).executeTakeFirst();
}

function coversOf(db: Asking, outboxKey: string): Promise<OutboxCoverTable[]> {
  return db.selectFrom("outbox_cover").selectAll().where("outbox_key", "=", outboxKey).execute();
}

function toldOf(cover: OutboxCoverTable): readonly Told[] {
  return JSON.parse(cover.told_json) as Told[];
}

async function linesOf(db: Asking, covers: readonly OutboxCoverTable[]): Promise<readonly string[]> {
  const ids = covers.flatMap(toldOf).map(({ alarm }) => alarm);
  const rows =
    ids.length === 0
      ? []
      : await db.selectFrom("alarm").select(["id", "sign"]).where("id", "in", ids.slice(0, 400)).execute();
  const titles = new Map(rows.map(({ id, sign }) => [id, SIGNS[sign as keyof typeof SIGNS].title]));
  return covers.flatMap((cover) =>
    cover.kind === "drill"
      ? [`${cover.site}: answers drill ${cover.matter}`]
      : toldOf(cover).map(({ alarm }) => `${cover.site}: acknowledges ${titles.get(alarm) ?? alarm}`),
  );
}

/**
 * Uses a link: acknowledges what its message told of, as it was then. An alarm that has come again since is not answered
 * by it, since the person may not know.
 */
export async function redeemLink(draft: Draft, token: string, telling: Telling): Promise<Answer> {
  const link = await linkOf(draft.tx, token);
  if (link === undefined) return notDone("DESK_LINK_UNKNOWN", "Open the link of the newest message.");
  if (link.used_at !== null)
    return notDone("DESK_LINK_USED", "It has acknowledged already. A newer message has a link of its own.");
  if (draft.now >= link.expires_at)
    return notDone("DESK_LINK_EXPIRED", "Open the link of the newest message, or acknowledge at the desk.");
  const covers = await coversOf(draft.tx, link.outbox_key);
  const answers: Answer[] = [];
  await draft.enter(covers.map(({ site }) => site));
  for (const cover of covers) {
    const site = draft.sites.get(cover.site);
    if (site !== undefined) answers.push(await answerCover(draft, site, cover, telling));
  }
  const answered = answers.filter((answer) => answer.ok);
  if (answered.length === 0) {
    const refused = answers.find((answer) => !answer.ok);
    const why = refused === undefined ? "" : ` ${refused.refusal.text}`;
    return notDone("DESK_LINK_OUTDATED", `Nothing that its message told of waits for an answer.${why}`);
  }
  await draft.tx
    .updateTable("ack_link")
    .set({ used_at: draft.now })
    .where("token_hash", "=", link.token_hash)
    .execute();
  return done(answered.map(({ text }) => text).join(" "), {});
}

async function answerCover(
  draft: Draft,
  site: SiteDraft,
  cover: OutboxCoverTable,
  telling: Telling,
): Promise<Answer> {
  if (cover.kind === "drill") {
    const found = await findMatter(draft, cover.matter);
    if (found?.kind !== "drill") return notDone("DESK_MATTER_UNKNOWN", `Drill ${cover.matter} is not known.`);
    return answerDrill(draft, found, cover.person, telling);
  }
  const alarms = toldOf(cover).flatMap(({ alarm, occurrence }) => {
    const known = site.alarms.get(alarm);
    return known !== undefined && known.occurrence === occurrence ? [known] : [];
  });
  return acknowledgeAlarms(draft, site, alarms, cover.person);
}
