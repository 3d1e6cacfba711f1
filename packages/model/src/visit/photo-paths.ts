import type { FaultCode } from "../faults/catalogue.ts";
import { entriesOf, type Entry, repeatedReferences, textsOf, type Written } from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";

/** A photograph that a visit file names. */
export interface VisitPhoto {
  /** Path of the picture, from the folder of the visit file. */
  readonly file: string;
  readonly shows?: string;
  /** YYYY-MM-DD. */
  readonly on: string;
  /** HH:MM. */
  readonly at?: string;
  readonly sha256?: string;
}

/** What a program found of a picture on its disk. */
export interface PhotoProblem {
  readonly code: FaultCode;
  readonly of: "file" | "sha256";
  readonly allowed: string;
  readonly message: string;
}

/** Looks at the picture of a photograph; null: it is there, and it is the one that is meant. */
export type LookAtPhoto = (photo: Pick<VisitPhoto, "file" | "sha256">) => PhotoProblem | null;

/** Photographs stay in the folder of their visit, each is named once, and where somebody looks they are there. */
export function* photoFaults(root: Entry, look: LookAtPhoto | undefined): Generator<FieldFault> {
  const photos = entriesOf(root, "photos");
  yield* repeatedReferences(photos.flatMap((photo) => textsOf(photo, "file")));
  for (const photo of photos)
    for (const file of textsOf(photo, "file")) {
      if (!staysInFolder(file.text)) yield outside(file);
      else if (look !== undefined) yield* looked(photo, file, look);
    }
}

/** From the folder of the visit file downwards, written as on any system. */
function staysInFolder(file: string): boolean {
  const parts = file.split(/[/\\]/u);
  return parts[0] !== "" && !parts.includes("..") && !/^[A-Za-z][A-Za-z\d+.-]*:/u.test(file);
}

function outside({ path, text }: Written): FieldFault {
  return {
    ...{ code: "VISIT_PHOTO_OUTSIDE", path, part: "value", value: text },
    allowed: "a path from the folder of the visit file downwards, such as photos/one.jpg",
    message: "The photograph lies outside the folder of the visit file.",
  };
}

function* looked(photo: Entry, file: Written, look: LookAtPhoto): Generator<FieldFault> {
  const [stated] = textsOf(photo, "sha256");
  const problem = look({ file: file.text, ...(stated === undefined ? {} : { sha256: stated.text }) });
  if (problem === null) return;
  const { of, ...words } = problem;
  const { path, text } = of === "sha256" && stated !== undefined ? stated : file;
  yield { ...words, path, part: "value", value: text };
}
