/** A detached signature beside a file, in the format `earthbell.signature/1`. */
export interface Signature {
  readonly format: "earthbell.signature/1";
  readonly algorithm: "Ed25519";
  /** Name of the file when it was signed; the file may be renamed since. */
  readonly file: string;
  /** Public key, DER (SPKI) in base64. */
  readonly publicKey: string;
  /** Of all bytes of the file, in base64. */
  readonly signature: string;
}

export type SignatureVerdict = "valid" | "altered" | "unknown-key";

/** Whether a signature in base64 is that of a file by a public key (DER in base64). */
export type Verify = (publicKey: string, signature: string) => boolean;

export function signatureText(signed: Omit<Signature, "format" | "algorithm">): string {
  const { file, publicKey, signature } = signed;
  const whole: Signature = {
    format: "earthbell.signature/1",
    algorithm: "Ed25519",
    file,
    publicKey,
    signature,
  };
  return `${JSON.stringify(whole, null, 2)}\n`;
}

/** A signature as its file states it, or null where the text is none. */
export function readSignature(text: string): Signature | null {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    return null;
  }
  if (typeof data !== "object" || data === null) return null;
  const { format, algorithm, file, publicKey, signature } = data as Readonly<Record<string, unknown>>;
  const texts = [file, publicKey, signature].every((one) => typeof one === "string");
  return format === "earthbell.signature/1" && algorithm === "Ed25519" && texts ? (data as Signature) : null;
}

/**
 * Whether a file is as it was signed, and by a key that is known. The key named in the signature proves nothing by itself:
 * anybody can make one.
 *
 * @param known  public keys that are trusted, DER in base64
 */
export function judgeSignature(
  { publicKey, signature }: Signature,
  known: readonly string[],
  verify: Verify,
): SignatureVerdict {
  if (!verify(publicKey, signature)) return "altered";
  return known.includes(publicKey) ? "valid" : "unknown-key";
}
