import { createHash, createHmac } from "node:crypto";

/** A secret that both sides know, and the name by which they mean it. */
export interface SigningKey {
  readonly id: string;
  readonly secret: string;
}

/** Names of the headers; docs/topics.md says how to check them. */
const SENT_AT = "Earthbell-Sent-At";
const MESSAGE_KEY = "Earthbell-Message-Key";
const SIGNATURE = "Earthbell-Signature";

/**
 * Headers by which the other side knows who sent a body, when, and whether it has it already. Signed is
 * `seconds.message-key.body` with HMAC-SHA-256 (RFC 2104); each key gives one `id=hex`, so that keys can be changed without a gap.
 *
 * @param key  of the envelope; the header carries its SHA-256, since keys hold characters that headers do not
 */
export function signedHeaders(
  body: string,
  key: string,
  sentAt: number,
  keys: readonly SigningKey[],
): Readonly<Record<string, string>> {
  const seconds = String(Math.floor(sentAt / 1000));
  const messageKey = createHash("sha256").update(key).digest("hex");
  const signatures = keys.map(({ id, secret }) => {
    const digest = createHmac("sha256", secret).update(`${seconds}.${messageKey}.${body}`).digest("hex");
    return `${id}=${digest}`;
  });
  return {
    [SENT_AT]: seconds,
    [MESSAGE_KEY]: messageKey,
    ...(signatures.length === 0 ? {} : { [SIGNATURE]: signatures.join(", ") }),
  };
}
