import { randomUUID } from "node:crypto";
import { appendJournal, type DeskStore, type OwnerLinkTable } from "../store/index.ts";
import { newToken, tokenHash } from "../token.ts";

const DAY_MS = 86_400_000;
export const LONGEST_DAYS = 400;

/** Makes a link by which an owner looks at sites, and changes nothing. @returns its token, of which only the hash is kept */
export async function makeOwnerLink(
  store: DeskStore,
  link: { readonly label: string; readonly sites: readonly string[]; readonly days: number },
  { by, at }: { readonly by: string; readonly at: number },
): Promise<string> {
  const token = newToken();
  const { label, sites, days } = link;
  const row: OwnerLinkTable = {
    id: randomUUID(),
    token_hash: tokenHash(token),
    sites_json: JSON.stringify(sites),
    label,
    issued_at: at,
    issued_by: by,
    expires_at: at + days * DAY_MS,
    opened_at: null,
    revoked_at: null,
    revoked_by: null,
  };
  const text = `Link to look at ${sites.join(", ")}, made for ${label}, until ${new Date(row.expires_at).toISOString().slice(0, 10)}.`;
  await store.amend(async (tx) => {
    await tx.insertInto("owner_link").values(row).execute();
    await appendJournal(tx, [{ at, kind: "person", site: null, subject: row.id, by, text }]);
  });
  return token;
}

/** The link that is in force; null for one that has expired, was revoked, or never was. */
export async function openOwnerLink(
  store: DeskStore,
  token: string,
  now: number,
): Promise<OwnerLinkTable | null> {
  const row = await store.db
    .selectFrom("owner_link")
    .selectAll()
    .where("token_hash", "=", tokenHash(token))
    .where("revoked_at", "is", null)
    .where("expires_at", ">", now)
    .executeTakeFirst();
  return row ?? null;
}

/** Notes that a link was opened for the first time. */
export async function noteOpened(
  store: DeskStore,
  { id, label, opened_at }: OwnerLinkTable,
  at: number,
): Promise<void> {
  if (opened_at !== null) return;
  const text = `The link made for ${label} was opened for the first time.`;
  await store.amend(async (tx) => {
    await tx.updateTable("owner_link").set({ opened_at: at }).where("id", "=", id).execute();
    await appendJournal(tx, [{ at, kind: "person", site: null, subject: id, by: null, text }]);
  });
}

/** @returns false where there is no such link in force */
export async function revokeOwnerLink(
  store: DeskStore,
  id: string,
  { by, at }: { readonly by: string; readonly at: number },
): Promise<boolean> {
  return store.amend(async (tx) => {
    const ended = await tx
      .updateTable("owner_link")
      .set({ revoked_at: at, revoked_by: by })
      .where("id", "=", id)
      .where("revoked_at", "is", null)
      .executeTakeFirst();
    if (ended.numUpdatedRows !== 1n) return false;
    const text = "The link to look at sites was revoked.";
    await appendJournal(tx, [{ at, kind: "person", site: null, subject: id, by, text }]);
    return true;
  });
}
