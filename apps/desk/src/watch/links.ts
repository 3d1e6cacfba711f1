import type { Writing } from "../store/index.ts";
import { newToken, tokenHash } from "../token.ts";

/** A link that acknowledges what the message of an outbox row told. @returns its token, which is not kept */
export async function issueLink(
  tx: Writing,
  row: { readonly outboxKey: string; readonly person: string },
  now: number,
  holdsMs: number,
): Promise<string> {
  const token = newToken();
  await tx
    .insertInto("ack_link")
    .values({
      token_hash: tokenHash(token),
      outbox_key: row.outboxKey,
      person: row.person,
      issued_at: now,
      expires_at: now + holdsMs,
      used_at: null,
    })
    .execute();
  return token;
}
