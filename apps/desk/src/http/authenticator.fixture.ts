import { createHash, createSign, generateKeyPairSync, type KeyObject, randomBytes } from "node:crypto";

/** What an authenticator is asked, or lies about. */
export interface Asked {
  readonly challenge: string;
  readonly origin: string;
  readonly rpId: string;
  /** The person was verified by the authenticator. */
  readonly verified?: boolean;
}

const base64url = (bytes: Uint8Array | string): string => Buffer.from(bytes).toString("base64url");
const sha256 = (text: string | Uint8Array): Buffer => createHash("sha256").update(text).digest();

const PRESENT = 0x01;
const VERIFIED = 0x04;
const HAS_KEY = 0x40;

/**
 * An authenticator in software with one passkey (ES256), built after the open standard "Web Authentication" of the W3C
 * [from memory], so that answers can be made that no honest browser would give.
 */
export class Authenticator {
  readonly #id = randomBytes(16);
  readonly #key: KeyObject;
  readonly #point: { readonly x: Buffer; readonly y: Buffer };
  #uses = 0;

  constructor() {
    const { privateKey, publicKey } = generateKeyPairSync("ec", { namedCurve: "P-256" });
    const { x = "", y = "" } = publicKey.export({ format: "jwk" });
    this.#key = privateKey;
    this.#point = { x: Buffer.from(x, "base64url"), y: Buffer.from(y, "base64url") };
  }

  register(asked: Asked): object {
    const length = Buffer.from([0, this.#id.length]);
    const key = Buffer.concat([Buffer.alloc(16), length, this.#id, this.#coseKey()]);
    const data = Buffer.concat([this.#header(asked, HAS_KEY), key]);
    // CBOR: a map of three, { fmt: "none", attStmt: {}, authData: bytes }.
    const object = Buffer.concat([
      Buffer.from("a363666d74646e6f6e656761747453746d74a068617574684461746158", "hex"),
      Buffer.from([data.length]),
      data,
    ]);
    return this.#answer({
      clientDataJSON: clientData("webauthn.create", asked),
      attestationObject: base64url(object),
    });
  }

  signIn(asked: Asked): object {
    this.#uses += 1;
    const data = this.#header(asked, 0);
    const client = clientData("webauthn.get", asked);
    const signed = Buffer.concat([data, sha256(Buffer.from(client, "base64url"))]);
    return this.#answer({
      clientDataJSON: client,
      authenticatorData: base64url(data),
      signature: base64url(createSign("SHA256").update(signed).sign(this.#key)),
    });
  }

  /** Turns the counter back, as on a copy that was made of the authenticator. */
  copied(): void {
    this.#uses = 0;
  }

  #header({ rpId, verified = true }: Asked, flags: number): Buffer {
    const count = Buffer.alloc(4);
    count.writeUInt32BE(this.#uses);
    const all = flags | PRESENT | (verified ? VERIFIED : 0);
    return Buffer.concat([sha256(rpId), Buffer.from([all]), count]);
  }

  /** CBOR: { 1: 2 (EC2), 3: −7 (ES256), −1: 1 (P-256), −2: x, −3: y }. */
  #coseKey(): Buffer {
    const bytes = (of: Buffer): Buffer => Buffer.concat([Buffer.from([0x58, of.length]), of]);
    return Buffer.concat([
      Buffer.from("a5010203262001", "hex"),
      Buffer.from([0x21]),
      bytes(this.#point.x),
      Buffer.from([0x22]),
      bytes(this.#point.y),
    ]);
  }

  #answer(response: object): object {
    const id = base64url(this.#id);
    return { id, rawId: id, type: "public-key", clientExtensionResults: {}, response };
  }
}

function clientData(type: string, { challenge, origin }: Asked): string {
  return base64url(JSON.stringify({ type, challenge, origin, crossOrigin: false }));
}
