import { newToken, tokenHash } from "../token.ts";
import type { AccountTable, DeskStore } from "../store/index.ts";

const DAY_MS = 86_400_000;

/** How long a browser stays signed in [ms]. */
export interface SessionTimes {
  /** Unused for this long it has to sign in again. */
  readonly unusedMs: number;
  /** And in any case after this. */
  readonly longestMs: number;
}

/** Where the settings say nothing [design choice]. */
export const SESSION_TIMES: SessionTimes = { unusedMs: 14 * DAY_MS, longestMs: 90 * DAY_MS };
/** How exactly it is noted when a session was used; it counts as unused for up to this longer. */
const NOTED_EVERY_MS = 5 * 60_000;

/** Signs a browser in. The cookie is always a new one, so that nobody can hand over a session made before. */
export async function beginSession(store: DeskStore, account: string, now: number): Promise<string> {
  const token = newToken();
  const row = { token_hash: tokenHash(token), account_id: account, created_at: now, seen_at: now };
  await store.amend((tx) => tx.insertInto("session").values(row).execute());
  return token;
}

/** The account that the cookie stands for; null for none, or one that is disabled or too old. */
export async function accountOfSession(
  store: DeskStore,
  token: string,
  now: number,
  { unusedMs, longestMs }: SessionTimes,
): Promise<AccountTable | null> {
  const hash = tokenHash(token);
  const row = await store.db
    .selectFrom("session")
    .innerJoin("account", "account.id", "session.account_id")
    .selectAll("account")
    .select(["session.created_at as began_at", "session.seen_at"])
    .where("session.token_hash", "=", hash)
    .where("account.disabled_at", "is", null)
    .executeTakeFirst();
  if (row === undefined || now - row.seen_at > unusedMs || now - row.began_at > longestMs) return null;
  const { began_at: _, seen_at, ...account } = row;
  if (now - seen_at > NOTED_EVERY_MS)
    await store.amend((tx) =>
      tx.updateTable("session").set({ seen_at: now }).where("token_hash", "=", hash).execute(),
    );
  return account;
}

export async function endSession(store: DeskStore, token: string): Promise<void> {
  await store.amend((tx) => tx.deleteFrom("session").where("token_hash", "=", tokenHash(token)).execute());
}
