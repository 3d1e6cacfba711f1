import type { VisitOnFile, VisitPhoto } from "@earthbell/model";
import { clockWords, dayOf } from "../desk/instant.ts";
import { ask } from "../engine/ask.ts";
import type { KeptPhoto, KeptVisit } from "../keep/kept.ts";
import { notesText } from "../keep/kept-entries.ts";

interface SavedFile {
  readonly name: string;
  readonly content: Blob | string;
}

/** A visit as files to lie in one folder: the visit file, its notes as comments at the top, and the photographs that it names. */
export async function visitFiles(
  kept: KeptVisit,
  photos: readonly KeptPhoto[],
): Promise<readonly SavedFile[]> {
  const name = `visit-${kept.begun.slice(0, 10)}-${kept.id}`;
  const notes = [kept.title, `begun ${kept.begun}`, ...notesText(kept).split("\n")];
  const said = notes.map((line) => line.trim()).filter((line) => line !== "");
  const own = await Promise.all(
    photos.map(async (photo, at) => await named(photo, `${name}-photo-${String(at + 1)}`)),
  );
  // A visit that was opened from a file may name photographs that lie beside that file.
  const { photos: before = [] } = kept.visit as VisitOnFile;
  const visit: VisitOnFile = { ...kept.visit, photos: [...before, ...own.map(({ photo }) => photo)] };
  const text = await ask("writeVisit", visit, said);
  return [
    { name: `${name}.yaml`, content: text },
    ...own.map(({ photo, image }) => ({ name: photo.file, content: image })),
  ];
}

async function named(
  { name, image, taken }: KeptPhoto,
  as: string,
): Promise<{ readonly photo: VisitPhoto; readonly image: Blob }> {
  const ending = /\.[a-z0-9]{1,5}$/iu.exec(name)?.[0] ?? `.${image.type.split("/")[1] ?? "bin"}`;
  const at = Date.parse(taken);
  const sha256 = await digestOf(image);
  return {
    photo: {
      ...{ file: `${as}${ending.toLowerCase()}`, on: dayOf(at), at: clockWords(at) },
      ...(sha256 === null ? {} : { sha256 }),
    },
    image,
  };
}

/** SHA-256 in hexadecimal digits; null on a page without an encrypted connection, where browsers offer none. */
async function digestOf(image: Blob): Promise<string | null> {
  const crypto: Partial<Crypto> = globalThis.crypto;
  if (crypto.subtle === undefined) return null;
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", await image.arrayBuffer()));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
