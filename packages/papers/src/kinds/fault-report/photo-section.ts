import { type HandedPhoto, type HandedVisit, takenAway } from "@earthbell/model";
import type { Block, Photograph, Table } from "../../content/paper.ts";
import { photosAcross, type ShownPhotos } from "../../pictures/shown-photos.ts";
import type { FaultRecords } from "./fault-records.ts";
import { instantIn } from "./instant-words.ts";

/** A photo of a report with the visit that it belongs to. */
interface ReportedPhoto {
  readonly photo: HandedPhoto;
  readonly visit: HandedVisit;
}

/** Digits of a digest that stand below a photo; all of them stand in the list. */
const SHORT = 8;

/** The photos of all visits that nobody took away, in the order of the visits and of the instants at which they were added. */
export function reportedPhotos({ visits }: FaultRecords): readonly ReportedPhoto[] {
  return visits.flatMap((visit) => {
    const gone = takenAway(visit.entries);
    return visit.photos
      .filter(({ id }) => !gone.has(id))
      .toSorted((a, b) => a.takenAt - b.takenAt || (a.id < b.id ? -1 : 1))
      .map((photo) => ({ photo, visit }));
  });
}

/** A photograph as a report tells of it. */
export interface PhotoLine {
  readonly name: string;
  /** The visit that it is of. */
  readonly of: string;
  /** `Added by Ann, 3 March 2026, 09:12.` */
  readonly from: string;
  /** In words, as whoever took it wrote; null: nobody has described it. */
  readonly shows: string | null;
  /** SHA-256 in hexadecimal; null: none is known. */
  readonly digest: string | null;
}

/** The photographs of what a desk has on record. */
export function photoSection(records: FaultRecords, shown: ShownPhotos): readonly Block[] {
  const lines = reportedPhotos(records).map(({ photo, visit }) => ({
    ...{ name: photo.name, of: visit.title, shows: null, digest: photo.digest },
    from: `Added by ${whoAndWhen(photo, records.site.zone)}`,
  }));
  return photoBlocks(
    lines,
    shown,
    "Every photograph with the SHA-256 of the picture that was handed over and is kept at the desk; prints are made smaller",
  );
}

const NOT_AT_HAND = "no picture was at hand where this paper was made";

/** Every photo as a picture, those that cannot be shown with the reason, and the list with the whole digests. */
export function photoBlocks(
  photos: readonly PhotoLine[],
  shown: ShownPhotos,
  caption: string,
): readonly Block[] {
  if (photos.length === 0) return [];
  const pictures: Photograph[] = [];
  const not: string[] = [];
  for (const [index, { name, of, from, shows, digest }] of photos.entries()) {
    const known = (digest === null ? undefined : shown.get(digest)) ?? {
      picture: null,
      because: NOT_AT_HAND,
    };
    const number = `Photograph ${index + 1}`;
    const what = shows ?? "Nobody has described it in words";
    if (known.picture === null)
      not.push(
        `${number}, ${name}, is not shown: ${known.because}. ${shows === null ? "" : `${shows}. `}${from}.`,
      );
    else
      pictures.push({
        picture: known.picture,
        alt: `${number} of ${of}: ${name}, ${from.charAt(0).toLowerCase()}${from.slice(1)}. ${what}.`,
        caption: `${index + 1}. ${name}. ${shows === null ? "" : `${shows}. `}${from}. SHA-256 ${digest!.slice(0, SHORT)}…`,
      });
  }
  return [
    { kind: "heading", level: 1, text: "Photographs" },
    ...(not.length === 0 ? [] : [{ kind: "list", items: not } as const]),
    ...(pictures.length === 0
      ? []
      : [{ kind: "photographs", across: photosAcross(photos.length), items: pictures } as const]),
    photoTable(photos, caption),
  ];
}

function whoAndWhen({ by, takenAt }: HandedPhoto, zone: string): string {
  return `${by}, ${instantIn(zone, takenAt)}`;
}

/** Photos by their digest, so that a picture that somebody holds can be known again. */
function photoTable(photos: readonly PhotoLine[], caption: string): Table {
  return {
    kind: "table",
    caption,
    columns: [
      { head: "No.", share: 0.07 },
      { head: "Photograph", share: 0.25 },
      { head: "From", share: 0.28 },
      { head: "SHA-256", share: 0.4 },
    ],
    rows: photos.map(({ name, from, digest }, index) => [
      String(index + 1),
      name,
      from,
      digest === null ? "not known" : digest.replace(/.{16}(?=.)/gu, "$& "),
    ]),
  };
}
