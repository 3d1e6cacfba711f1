import { createPrivateKey, createPublicKey, type KeyObject, sign, verify as verifyBytes } from "node:crypto";
import { signatureText, type Verify } from "@earthbell/papers";

/** Signs the bytes of a file; returns the text of its signature file. */
type Sign = (file: string, bytes: Uint8Array) => string;

/** A signer with an Ed25519 private key (PEM), or null where the text is no such key. */
export function signerOf(pem: string): Sign | null {
  const key = ed25519(() => createPrivateKey(pem));
  if (key === null) return null;
  const publicKey = derOf(createPublicKey(key));
  return (file, bytes) =>
    signatureText({ file, publicKey, signature: sign(null, bytes, key).toString("base64") });
}

/** A public key (PEM) as DER in base64, or null where the text is no Ed25519 key. */
export function publicKeyOf(pem: string): string | null {
  const key = ed25519(() => createPublicKey(pem));
  return key === null ? null : derOf(key);
}

/** Checks signatures over these bytes. */
export function verifierOf(bytes: Uint8Array): Verify {
  return (publicKey, signature) => {
    const key = ed25519(() =>
      createPublicKey({ key: Buffer.from(publicKey, "base64"), format: "der", type: "spki" }),
    );
    return key !== null && verifyBytes(null, bytes, key, Buffer.from(signature, "base64"));
  };
}

function ed25519(make: () => KeyObject): KeyObject | null {
  try {
    const key = make();
    return key.asymmetricKeyType === "ed25519" ? key : null;
  } catch {
    return null;
  }
}

function derOf(key: KeyObject): string {
  return key.export({ format: "der", type: "spki" }).toString("base64");
}
