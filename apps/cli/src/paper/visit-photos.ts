import { readFileSync, realpathSync, statSync } from "node:fs";
import { dirname, join, sep } from "node:path";
import { type InputFault, type LookAtPhoto, readVisit } from "@earthbell/model";
import { type PhotoFile, type Source, unprintable } from "@earthbell/papers";
import { sha256 } from "./sha256.ts";

/** A photo of a phone has some megabytes. */
const MOST_BYTES = 64 * 2 ** 20;
const WHAT = "a JPEG, PNG or WebP beside the visit file";

interface VisitSource {
  readonly source: Source;
  /** Path of the visit file, or `-`: then photographs lie in the folder that the program was started in. */
  readonly operand: string;
}

interface Looked {
  readonly photoFiles: readonly PhotoFile[];
  /** Of the visit files and of their photographs. */
  readonly faults: readonly InputFault[];
}

/** The photographs that visit files name, each looked at on the disk: where they lie, and everything that is wrong. */
export function photosOfVisits(visits: readonly VisitSource[]): Looked {
  const all = visits.map(photosOfVisit);
  return {
    photoFiles: all.flatMap(({ photoFiles }) => photoFiles),
    faults: all.flatMap(({ faults }) => faults),
  };
}

function photosOfVisit({ source: { bytes, file }, operand }: VisitSource): Looked {
  const folder = operand === "-" ? "." : dirname(operand);
  const found: PhotoFile[] = [];
  const look: LookAtPhoto = (photo) => {
    const picture = pictureIn(folder, photo.file);
    if (!("bytes" in picture)) return { ...picture, of: "file" };
    const digest = sha256(picture.bytes);
    if (photo.sha256 !== undefined && photo.sha256 !== digest)
      return {
        ...{ code: "VISIT_PHOTO_ALTERED", of: "sha256", allowed: digest },
        message: `The picture ${photo.file} has another SHA-256.`,
      };
    const because = unprintable(picture.bytes);
    if (because !== null)
      return {
        code: "VISIT_PHOTO_NO_PICTURE",
        of: "file",
        allowed: WHAT,
        message: `It cannot be printed: ${because}.`,
      };
    found.push({ of: file, file: photo.file, path: picture.path, sha256: digest });
    return null;
  };
  const read = readVisit(bytes, file, { look });
  return { photoFiles: found, faults: read.ok ? [] : read.faults };
}

type NoPicture = Omit<NonNullable<ReturnType<LookAtPhoto>>, "of">;

function pictureIn(
  folder: string,
  file: string,
): { readonly path: string; readonly bytes: Uint8Array } | NoPicture {
  try {
    const path = realpathSync(join(folder, ...file.split(/[/\\]/u)));
    if (!path.startsWith(withSeparator(realpathSync(folder))))
      return {
        ...{ code: "VISIT_PHOTO_OUTSIDE", allowed: WHAT },
        message: "A link leads to a picture outside the folder of the visit file.",
      };
    const { size } = statSync(path);
    if (size > MOST_BYTES)
      return {
        ...{ code: "VISIT_PHOTO_NO_PICTURE", allowed: `at most ${MOST_BYTES} bytes` },
        message: `It has ${size} bytes.`,
      };
    return { path, bytes: readFileSync(path) };
  } catch (error) {
    const { code = "" } = error as { readonly code?: string };
    if (code === "") throw error;
    const why = code === "ENOENT" ? "There is no such file" : `It cannot be read (${code})`;
    return { code: "VISIT_PHOTO_MISSING", allowed: WHAT, message: `${why} beside the visit file.` };
  }
}

function withSeparator(folder: string): string {
  return folder.endsWith(sep) ? folder : `${folder}${sep}`;
}
