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

/** Every photo as a picture, those that cannot be shown with the reason, and the list with the whole digests. */
export function photoSection(records: FaultRecords, shown: ShownPhotos): readonly Block[] {
  const photos = reportedPhotos(records);
  if (photos.length === 0) return [];
  const { zone } = records.site;
  const pictures: Photograph[] = [];
  const not: string[] = [];
  for (const [index, one] of photos.entries()) {
    const { photo, visit } = one;
    const known = shown.get(photo.digest) ?? {
      picture: null,
      because: "no picture was at hand where this paper was made",
    };
    const [number, who] = [`Photograph ${index + 1}`, whoAndWhen(photo, zone)];
    if (known.picture === null)
      not.push(`${number}, ${photo.name}, is not shown: ${known.because}. Added by ${who}.`);
    else
      pictures.push({
        picture: known.picture,
        alt: `${number} of ${visit.title}: ${photo.name}, added by ${who}. Nobody has described it in words.`,
        caption: `${index + 1}. ${photo.name}. Added by ${who}. SHA-256 ${photo.digest.slice(0, SHORT)}…`,
      });
  }
  return [
    { kind: "heading", level: 1, text: "Photographs" },
    ...(not.length === 0 ? [] : [{ kind: "list", items: not } as const]),
    ...(pictures.length === 0
      ? []
      : [{ kind: "photographs", across: photosAcross(photos.length), items: pictures } as const]),
    photoTable(photos, zone),
  ];
}

function whoAndWhen({ by, takenAt }: HandedPhoto, zone: string): string {
  return `${by}, ${instantIn(zone, takenAt)}`;
}

/** Photos by their digest, so that a picture that somebody holds can be known again. */
function photoTable(photos: readonly ReportedPhoto[], zone: string): Table {
  return {
    kind: "table",
    caption:
      "Every photograph with the SHA-256 of the picture that was handed over and is kept at the desk; prints are made smaller",
    columns: [
      { head: "No.", share: 0.07 },
      { head: "Photograph", share: 0.25 },
      { head: "Added by", share: 0.28 },
      { head: "SHA-256", share: 0.4 },
    ],
    rows: photos.map(({ photo }, index) => [
      String(index + 1),
      photo.name,
      whoAndWhen(photo, zone),
      photo.digest.replace(/.{16}(?=.)/gu, "$& "),
    ]),
  };
}
