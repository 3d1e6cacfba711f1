import { newToken, tokenHash } from "../token.ts";
import type { DeskStore, InvitationTable } from "../store/index.ts";
import type { Role } from "./access.ts";

const DAY_MS = 86_400_000;
const HOLDS_MS = 3 * DAY_MS;

/** Makes a link by which somebody makes an account, once. @returns the token behind the link */
export async function invite(
  store: DeskStore,
  guest: { readonly role: Role; readonly sites: readonly string[] | null },
  { by, at }: { readonly by: string; readonly at: number },
): Promise<string> {
  const token = newToken();
  await store.amend((tx) =>
    tx
      .insertInto("invitation")
      .values({
        token_hash: tokenHash(token),
        role: guest.role,
        sites_json: guest.sites === null ? null : JSON.stringify(guest.sites),
        issued_at: at,
        issued_by: by,
        expires_at: at + HOLDS_MS,
        used_at: null,
      })
      .execute(),
  );
  return token;
}

/** An invitation that can still be used; null for any other token. */
export async function openInvitation(
  store: DeskStore,
  token: string,
  now: number,
): Promise<InvitationTable | null> {
  const row = await store.db
    .selectFrom("invitation")
    .selectAll()
    .where("token_hash", "=", tokenHash(token))
    .where("used_at", "is", null)
    .where("expires_at", ">", now)
    .executeTakeFirst();
  return row ?? null;
}

/**
 * The first person of a desk: a link for one who runs it, while nobody can sign in yet. Earlier links of this kind end, so
 * that only the one that was printed last works. There is no account and no password before.
 *
 * @returns null once somebody can sign in
 */
export async function inviteFirstPerson(store: DeskStore, now: number): Promise<string | null> {
  const anybody = await store.db
    .selectFrom("account")
    .select("id")
    .where("disabled_at", "is", null)
    .where("role", "=", "service")
    .executeTakeFirst();
  if (anybody !== undefined) return null;
  await store.amend((tx) =>
    tx
      .updateTable("invitation")
      .set({ used_at: now })
      .where("issued_by", "=", FIRST)
      .where("used_at", "is", null)
      .execute(),
  );
  return invite(store, { role: "service", sites: null }, { by: FIRST, at: now });
}

const FIRST = "the desk's first start";
