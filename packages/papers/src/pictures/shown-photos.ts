import { photoKind } from "./photo-kind.ts";
import { pictureSize } from "./picture-size.ts";
import { type Pixels, shrunk } from "./shrink.ts";

/** A picture as a paper holds it: a JPEG that was made for it. */
export interface Picture {
  readonly jpeg: Uint8Array;
  readonly width: number;
  readonly height: number;
}

/** A photo as a picture, or why it cannot be one. */
export type ShownPhoto = { readonly picture: Picture } | { readonly picture: null; readonly because: string };

/** Photos by the SHA-256 of the picture that was handed over. */
export type ShownPhotos = ReadonlyMap<string, ShownPhoto>;

/** What a program brings so that photos can be printed. */
export interface PhotoTools {
  /** The picture at a path, if it has this digest; null: missing, or no longer what it was. */
  readonly read: (path: string, digest: string) => Promise<Uint8Array | null>;
  /** New ones for each paper, so that the memory of the largest photo is given back. */
  readonly codecs: () => Promise<PictureCodecs>;
}

export interface PictureCodecs {
  /** Unpacks a JPEG (upright, by the orientation that it states), PNG or WebP. @throws where it cannot be unpacked */
  readonly unpack: (kind: UnpackedKind, bytes: Uint8Array) => Promise<Pixels>;
  readonly jpeg: (picture: Pixels) => Promise<Uint8Array>;
}

const UNPACKED = ["image/jpeg", "image/png", "image/webp"] as const;
export type UnpackedKind = (typeof UNPACKED)[number];

/** A photo of a phone has 8 to 50 million points; unpacked each takes four bytes. */
const MOST_POINTS = 60e6;
/** Photos up to which two stand beside each other, and above which four do. */
const MOST_LARGE = 24;
/** Longer edge [points]: about 300 to the inch where two stand beside each other, and where four do. */
const LARGE_EDGE = 1000;
const SMALL_EDGE = 500;

/** How many photos of so many stand beside each other. */
export function photosAcross(count: number): 2 | 4 {
  return count <= MOST_LARGE ? 2 : 4;
}

/** Longer edge of each of so many photos [points]. */
function edgeOf(count: number): number {
  return photosAcross(count) === 2 ? LARGE_EDGE : SMALL_EDGE;
}

/** Every photo made small enough for a report, one after the other; what cannot be shown says why. */
export async function showPhotos(
  digests: readonly string[],
  pathOf: (digest: string) => string | null,
  { read, codecs }: PhotoTools,
): Promise<ShownPhotos> {
  const shown = new Map<string, ShownPhoto>();
  if (digests.length === 0) return shown;
  const by = await codecs();
  for (const digest of digests)
    if (!shown.has(digest)) {
      const path = pathOf(digest);
      const bytes = path === null ? null : await read(path, digest);
      shown.set(
        digest,
        bytes === null
          ? not("the picture is missing, or is no longer what was handed over")
          : await shownPhoto(bytes, edgeOf(digests.length), by),
      );
    }
  return shown;
}

/** Why a picture cannot be printed, as far as its head tells; null: nothing speaks against it. */
export function unprintable(bytes: Uint8Array): string | null {
  const stated = photoKind(bytes);
  const kind = UNPACKED.find((one) => one === stated);
  if (kind === undefined)
    return stated === null
      ? "this is no picture"
      : `pictures of the kind ${stated.replace("image/", "").toUpperCase()} are kept, not printed`;
  const size = pictureSize(kind, bytes);
  if (size === null) return "the picture is damaged and cannot be unpacked";
  return size.width * size.height > MOST_POINTS
    ? `${size.width} × ${size.height} points are too many to be printed`
    : null;
}

async function shownPhoto(bytes: Uint8Array, edge: number, codecs: PictureCodecs): Promise<ShownPhoto> {
  const because = unprintable(bytes);
  if (because !== null) return not(because);
  const kind = photoKind(bytes) as UnpackedKind;
  try {
    const { width, height, data } = shrunk(await codecs.unpack(kind, bytes), edge);
    return { picture: { jpeg: await codecs.jpeg({ width, height, data }), width, height } };
  } catch {
    return not("the picture is damaged and cannot be unpacked");
  }
}

function not(because: string): ShownPhoto {
  return { picture: null, because };
}
