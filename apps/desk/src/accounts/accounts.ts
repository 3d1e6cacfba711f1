import { randomUUID } from "node:crypto";
import { tokenHash } from "../token.ts";
import { appendJournal, type AccountTable, type DeskStore } from "../store/index.ts";
import { openInvitation } from "./invitations.ts";
import { hashPassword } from "./password.ts";

export type Joined =
  | { readonly ok: true; readonly account: AccountTable }
  | { readonly ok: false; readonly code: "ACCOUNT_LINK_SPENT" | "ACCOUNT_NAME_TAKEN" };

/** Makes the account of an invitation, which is then spent. */
export async function join(
  store: DeskStore,
  token: string,
  { name, password }: { readonly name: string; readonly password: string },
  now: number,
): Promise<Joined> {
  const invitation = await openInvitation(store, token, now);
  if (invitation === null) return { ok: false, code: "ACCOUNT_LINK_SPENT" };
  const account: AccountTable = {
    id: randomUUID(),
    name,
    role: invitation.role,
    sites_json: invitation.sites_json,
    password_hash: await hashPassword(password),
    created_at: now,
    created_by: invitation.issued_by,
    disabled_at: null,
  };
  return store.amend(async (tx) => {
    const taken = await tx.selectFrom("account").select("id").where("name", "=", name).executeTakeFirst();
    if (taken !== undefined) return { ok: false, code: "ACCOUNT_NAME_TAKEN" };
    const spent = await tx
      .updateTable("invitation")
      .set({ used_at: now })
      .where("token_hash", "=", tokenHash(token))
      .where("used_at", "is", null)
      .executeTakeFirst();
    if (spent.numUpdatedRows !== 1n) return { ok: false, code: "ACCOUNT_LINK_SPENT" };
    await tx.insertInto("account").values(account).execute();
    const text = `${name} can sign in as ${account.role}, invited by ${invitation.issued_by}.`;
    const row = { at: now, kind: "person", site: null, subject: account.id, by: name, text };
    await appendJournal(tx, [row]);
    return { ok: true, account };
  });
}

export async function accountByName(store: DeskStore, name: string): Promise<AccountTable | null> {
  const row = await store.db
    .selectFrom("account")
    .selectAll()
    .where("name", "=", name)
    .where("disabled_at", "is", null)
    .executeTakeFirst();
  return row ?? null;
}

/** Ends an account and every browser that is signed in with it. @returns false where there is none that can sign in */
export async function disableAccount(
  store: DeskStore,
  id: string,
  { by, at }: { readonly by: string; readonly at: number },
): Promise<boolean> {
  return store.amend(async (tx) => {
    const ended = await tx
      .updateTable("account")
      .set({ disabled_at: at })
      .where("id", "=", id)
      .where("disabled_at", "is", null)
      .executeTakeFirst();
    if (ended.numUpdatedRows !== 1n) return false;
    await tx.deleteFrom("session").where("account_id", "=", id).execute();
    const row = { at, kind: "person", site: null, subject: id, by, text: "The account was disabled." };
    await appendJournal(tx, [row]);
    return true;
  });
}
