import { createHash, randomBytes } from "node:crypto";

/** 256 bits; begins with a word, so that a token found somewhere can be told for what it is. */
export function newToken(): string {
  return `eb_${randomBytes(32).toString("base64url")}`;
}

/** What is kept of a token. It is random and long, so that a plain hash cannot be turned back. */
export function tokenHash(token: string): string {
  return createHash("sha256").update(token).digest("hex");
}
