import { createHash, createPrivateKey, createPublicKey, generateKeyPairSync, randomUUID } from "node:crypto";
import { link, mkdir, readdir, readFile, rename, stat, unlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { codeOf } from "../folder/desk-folder.ts";

/** A public key by which papers were signed here. */
export interface PublicKey {
  /** First 16 hexadecimal digits of the SHA-256 of the key (DER, SPKI). */
  readonly id: string;
  readonly pem: string;
  /** DER (SPKI) in base64, as signatures name it. */
  readonly der: string;
  /** Signs now; the others signed before. */
  readonly current: boolean;
  /** When it was put here [ms since 1970, UTC]. */
  readonly since: number;
}

/** The Ed25519 keys of a desk: the private one that signs now, and the public one of every key that ever signed here. */
export interface SigningKeys {
  /** Private key (PEM), made when it is first wanted. It leaves this program only as signatures. */
  readonly current: () => Promise<string>;
  /** The current one first, then the newest. */
  readonly known: () => Promise<readonly PublicKey[]>;
  /** Makes a new key that signs from now on. The private key before it is gone, its public key stays. */
  readonly replace: () => Promise<PublicKey>;
}

const ENDING = ".pem";

export function signingKeys(folder: string): SigningKeys {
  const keyFile = join(folder, "current.key");
  const publicFolder = join(folder, "public");
  const made = async (): Promise<{ readonly part: string; readonly pem: string }> => {
    await mkdir(publicFolder, { recursive: true, mode: 0o700 });
    const pem = generateKeyPairSync("ed25519").privateKey.export({ format: "pem", type: "pkcs8" }).toString();
    const part = join(folder, `${randomUUID()}.part`);
    await writeFile(part, pem, { mode: 0o600, flag: "wx" });
    // The public key lies there before anything is signed: what is signed can always be checked.
    await keepPublic(publicFolder, pem);
    return { part, pem };
  };
  const current = async (): Promise<string> => {
    const found = await textOf(keyFile);
    if (found !== null) {
      await mkdir(publicFolder, { recursive: true, mode: 0o700 });
      await keepPublic(publicFolder, found);
      return found;
    }
    const { part } = await made();
    // Of two that make it at once the first one counts, and it is there whole.
    await link(part, keyFile).catch(unlessCode("EEXIST"));
    await unlink(part);
    return await readFile(keyFile, "utf8");
  };
  const known = async (): Promise<readonly PublicKey[]> => {
    const now = publicPem(await current());
    const names = (await readdir(publicFolder)).filter((name) => name.endsWith(ENDING));
    const keys = await Promise.all(
      names.map(async (name) => {
        const file = join(publicFolder, name);
        const pem = await readFile(file, "utf8");
        const der = derOf(pem);
        return der === null
          ? []
          : [{ id: idOf(der), pem, der, current: pem === now, since: (await stat(file)).mtimeMs }];
      }),
    );
    return keys
      .flat()
      .map((key) => ({ ...key, since: Math.floor(key.since) }))
      .sort((one, other) => Number(other.current) - Number(one.current) || other.since - one.since);
  };
  const replace = async (): Promise<PublicKey> => {
    await current();
    const { part } = await made();
    await rename(part, keyFile);
    return (await known())[0]!;
  };
  return { current, known, replace };
}

/** A private key that somebody put here may be none; whoever signs with it is told then. */
async function keepPublic(folder: string, privatePem: string): Promise<void> {
  const pem = publicPem(privatePem);
  const der = pem === null ? null : derOf(pem);
  if (pem === null || der === null) return;
  await writeFile(join(folder, `${idOf(der)}${ENDING}`), pem, { flag: "wx" }).catch(unlessCode("EEXIST"));
}

function publicPem(privatePem: string): string | null {
  try {
    const key = createPrivateKey(privatePem);
    if (key.asymmetricKeyType !== "ed25519") return null;
    return createPublicKey(key).export({ format: "pem", type: "spki" }).toString();
  } catch {
    return null;
  }
}

function derOf(pem: string): string | null {
  try {
    return createPublicKey(pem).export({ format: "der", type: "spki" }).toString("base64");
  } catch {
    return null;
  }
}

function idOf(der: string): string {
  return createHash("sha256").update(Buffer.from(der, "base64")).digest("hex").slice(0, 16);
}

async function textOf(file: string): Promise<string | null> {
  try {
    return await readFile(file, "utf8");
  } catch (error) {
    if (codeOf(error) === "ENOENT") return null;
    throw error;
  }
}

function unlessCode(code: string): (error: unknown) => void {
  return (error) => {
    if (codeOf(error) !== code) throw error;
  };
}
