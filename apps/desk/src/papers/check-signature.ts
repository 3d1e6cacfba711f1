import { createPublicKey, verify } from "node:crypto";
import { judgeSignature, readSignature, type SignatureVerdict } from "@earthbell/papers";
import type { PublicKey } from "./signing-keys.ts";

/** missing: the file is not in the folder any more; unsigned: there is no signature beside it that can be read. */
export type FileVerdict = SignatureVerdict | "unsigned" | "missing";

/** What a signature says of a file. key: the one that signed, where it is one of this desk. */
export interface Checked {
  readonly verdict: FileVerdict;
  readonly key: string | null;
}

/**
 * Whether bytes are as they were signed, by a key of this desk.
 *
 * @param text  of the signature file; null where there is none
 */
export function checkSignature(bytes: Uint8Array, text: string | null, known: readonly PublicKey[]): Checked {
  const signature = text === null ? null : readSignature(text);
  if (signature === null) return { verdict: "unsigned", key: null };
  const verdict = judgeSignature(
    signature,
    known.map(({ der }) => der),
    (publicKey, written) => holds(bytes, publicKey, written),
  );
  const key = known.find(({ der }) => der === signature.publicKey)?.id ?? null;
  return { verdict, key };
}

function holds(bytes: Uint8Array, publicKey: string, signature: string): boolean {
  try {
    const key = createPublicKey({ key: Buffer.from(publicKey, "base64"), format: "der", type: "spki" });
    return key.asymmetricKeyType === "ed25519" && verify(null, bytes, key, Buffer.from(signature, "base64"));
  } catch {
    return false;
  }
}
