import { createHash, randomUUID } from "node:crypto";
import { mkdir, open, readFile, rename } from "node:fs/promises";
import { join } from "node:path";

/** Where the pictures themselves lie. */
export interface PhotoFiles {
  /** Stores the picture durably. @returns its SHA-256, hexadecimal */
  keep(picture: Uint8Array): Promise<string>;
  /** The picture of a digest; null where it is missing or is no longer what it was. */
  read(digest: string): Promise<Buffer | null>;
}

export const digestOf = (picture: Uint8Array): string => createHash("sha256").update(picture).digest("hex");

/** Pictures in a folder beside the database, each under its digest: the same picture lies there once. */
export function photoFolder(folder: string): PhotoFiles {
  return {
    keep: async (picture) => {
      const digest = digestOf(picture);
      await mkdir(folder, { recursive: true, mode: 0o750 });
      const part = join(folder, `${digest}.${randomUUID()}.part`);
      const file = await open(part, "w", 0o640);
      try {
        await file.writeFile(picture);
        await file.sync();
      } finally {
        await file.close();
      }
      await rename(part, join(folder, digest));
      return digest;
    },
    read: async (digest) => {
      const picture = await readFile(join(folder, digest)).catch(() => null);
      return picture !== null && digestOf(picture) === digest ? picture : null;
    },
  };
}
