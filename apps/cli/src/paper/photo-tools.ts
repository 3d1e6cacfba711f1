import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { PhotoTools, PictureCodecs } from "@earthbell/papers";
import { sha256 } from "./sha256.ts";

/** The photos of a desk's folder, and codecs that are loaded only where a photo is printed. */
export const photoTools: PhotoTools = {
  read: async (folder, digest) => {
    const picture = await readFile(join(folder, digest)).catch(() => null);
    return picture !== null && sha256(picture) === digest ? picture : null;
  },
  codecs: async (): Promise<PictureCodecs> => (await import("./picture-codecs.ts")).openCodecs(),
};
