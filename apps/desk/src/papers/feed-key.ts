import { createHmac, randomBytes, timingSafeEqual } from "node:crypto";
import { readFile, writeFile } from "node:fs/promises";
import { codeOf } from "../folder/desk-folder.ts";

/** The secret of the desk's calendar feeds, made when it is first wanted. Deleting the file ends every feed address. */
export async function feedKey(file: string): Promise<Buffer> {
  try {
    return await readFile(file);
  } catch (error) {
    if (codeOf(error) !== "ENOENT") throw error;
  }
  // Of two that make it at once the first one counts.
  await writeFile(file, randomBytes(32), { mode: 0o600, flag: "wx" }).catch((error: unknown) => {
    if (codeOf(error) !== "EEXIST") throw error;
  });
  return await readFile(file);
}

/**
 * What stands in the address of an account's feed. Calendars send no headers, so the address itself is the secret: it opens the
 * feed and nothing else.
 */
export function feedToken(account: string, key: Buffer): string {
  return `${Buffer.from(account).toString("base64url")}.${macOf(account, key).toString("base64url")}`;
}

/** The account of a feed address; null where the desk did not make it. */
export function accountOfFeed(token: string, key: Buffer): string | null {
  const [written = "", mac = ""] = token.split(".");
  const account = Buffer.from(written, "base64url").toString();
  const [given, right] = [Buffer.from(mac, "base64url"), macOf(account, key)];
  return given.length === right.length && timingSafeEqual(given, right) ? account : null;
}

function macOf(account: string, key: Buffer): Buffer {
  return createHmac("sha256", key).update(`calendar ${account}`).digest();
}
