import { readFile } from "node:fs/promises";
import type { PhotoTools, PictureCodecs } from "@earthbell/papers";
import { sha256 } from "./sha256.ts";

/** Photos on the disk, and codecs that are loaded only where a photo is printed. */
export const photoTools: PhotoTools = {
  read: async (path, digest) => {
    const picture = await readFile(path).catch(() => null);
    return picture !== null && sha256(picture) === digest ? picture : null;
  },
  codecs: async (): Promise<PictureCodecs> => (await import("./picture-codecs.ts")).openCodecs(),
};
