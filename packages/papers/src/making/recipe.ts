import type { RulePack } from "@earthbell/engine";
import type { HeldSheet, ReadResult } from "@earthbell/model";
import type { PaperKind } from "../content/paper-kind.ts";
import type { Paper } from "../content/paper.ts";
import type { Json } from "../identity/canonical.ts";
import type { Issue } from "../identity/issue.ts";
import type { FaultRecords } from "../kinds/fault-report/fault-records.ts";
import type { ShownPhotos } from "../pictures/shown-photos.ts";
import type { Language } from "../language/language.ts";
import type { SheetTable } from "../sheets/sheet-table.ts";

/** What a paper is written as. */
export const PAPER_FORMATS = ["pdf", "html", "csv", "xlsx"] as const;
export type PaperFormat = (typeof PAPER_FORMATS)[number];

/** What a paper is made from, once its files are read. */
export interface Prepared {
  /** Id of the site or name of the visit, which goes into the number of the paper. */
  readonly of: string;
  readonly input: Json;
  /** Photos that it shows, by their digests in the order in which they stand there. */
  readonly photos?: readonly string[];
  /** photos: as they can be shown; left out, it shows none and says so. */
  readonly paper: (issue: Issue, photos?: ShownPhotos) => Paper;
  /** The same as a table for spreadsheets, where the kind has one. */
  readonly table?: (issue: Issue) => SheetTable;
}

/** One file that a paper is made from. */
export interface Source {
  readonly bytes: Uint8Array | string;
  readonly file: string;
  /** Name of the file without folder and ending. */
  readonly stem: string;
}

/** The picture of a photograph that a visit file names. */
export interface PhotoFile {
  /** Name of the visit file, as its source has it. */
  readonly of: string;
  /** As the visit file names it. */
  readonly file: string;
  readonly path: string;
  readonly sha256: string;
}

/** Files beside the ones that a paper is about. */
export interface Extra {
  /** The visit after the repair, for a fault report. */
  readonly after?: Source;
  /** What was measured, for a commissioning record. */
  readonly results?: Source;
  /** For a commissioning record: the setting sheets at hand that it binds in. */
  readonly sheets?: readonly HeldSheet[];
  /** For a fault report from files: where the photographs that they name lie. */
  readonly photoFiles?: readonly PhotoFile[];
  /** For a fault report, in place of files: what a desk has on record. */
  readonly records?: FaultRecords;
  /** Rule packs in force besides those of the program, as `assessSite` takes them. */
  readonly packs?: readonly RulePack[];
}

/** How one kind of paper is made. */
export interface Recipe {
  readonly kind: PaperKind;
  readonly says: string;
  readonly formats: readonly PaperFormat[];
  readonly languages: readonly Language[];
  /** What it is about: one site, one visit, all sites of a register together, or one setting sheet. */
  readonly about: "site" | "visit" | "sites" | "sheet";
  readonly prepare: (sources: readonly Source[], extra: Extra) => ReadResult<Prepared>;
}
