import { randomBytes } from "node:crypto";
import { argon2id, argon2Verify } from "hash-wasm";

/** RFC 9106, second recommended option for machines with little memory: 64 MiB, three passes; one lane, since WebAssembly has one thread. */
const COST = { parallelism: 1, iterations: 3, memorySize: 65_536, hashLength: 32 } as const;

export const SHORTEST_PASSWORD = 12;
export const LONGEST_PASSWORD = 200;

/** Argon2id in its encoded form, salt and cost included. */
export function hashPassword(password: string): Promise<string> {
  return argon2id({ ...COST, password, salt: randomBytes(16), outputType: "encoded" });
}

/** What is compared with where no account has the name, so that the answer takes as long as any other. */
let nobody: Promise<string> | null = null;

/** Whether the password fits; without a hash it never does, and takes as long to say so. */
export async function passwordFits(password: string, hash: string | null): Promise<boolean> {
  nobody ??= hashPassword(randomBytes(24).toString("base64"));
  const fits = await argon2Verify({ password, hash: hash ?? (await nobody) });
  return fits && hash !== null;
}
