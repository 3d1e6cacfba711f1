import type { DeskStore } from "../store/index.ts";
import { newToken, tokenHash } from "../token.ts";

/** Makes a token in the name of a person. It is returned once; only its hash is kept. */
export async function makePersonToken(
  store: DeskStore,
  person: string,
  { by, at }: { readonly by: string; readonly at: number },
): Promise<string> {
  const token = newToken();
  const row = { token_hash: tokenHash(token), person, issued_at: at, issued_by: by, revoked_at: null };
  await store.amend((tx) => tx.insertInto("person_token").values(row).execute());
  return token;
}

/** Makes a token by which a site pushes readings; null for a site that is not watched. */
export async function makeSiteToken(
  store: DeskStore,
  site: string,
  { label, by, at }: { readonly label: string; readonly by: string; readonly at: number },
): Promise<string | null> {
  const known = await store.db
    .selectFrom("site")
    .select("id")
    .where("id", "=", site)
    .where("removed_at", "is", null)
    .executeTakeFirst();
  if (known === undefined) return null;
  const token = newToken();
  const row = { token_hash: tokenHash(token), site, label, issued_at: at, issued_by: by };
  await store.amend((tx) =>
    tx
      .insertInto("site_token")
      .values({ ...row, revoked_at: null, revoked_by: null })
      .execute(),
  );
  return token;
}
