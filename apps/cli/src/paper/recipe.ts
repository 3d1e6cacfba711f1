import type { Digest, Issue, Json, Language, Paper, PaperKind, SheetTable } from "@earthbell/papers";
import type { ReadResult } from "@earthbell/model";

export type Format = "pdf" | "html" | "csv" | "xlsx";

/** What a paper is made from, once its files are read. */
export interface Prepared {
  /** Id of the site or name of the visit, which goes into the number of the paper. */
  readonly of: string;
  readonly input: Json;
  readonly paper: (issue: Issue) => Paper;
  /** The same as a table for spreadsheets, where the kind has one. */
  readonly table?: (issue: Issue) => SheetTable;
}

/** One file of the command line, read. */
export interface Source {
  readonly bytes: Uint8Array;
  readonly file: string;
  /** Name of the file without folder and ending. */
  readonly stem: string;
}

/** How one kind of paper is made. */
export interface Recipe {
  readonly kind: PaperKind;
  readonly says: string;
  readonly formats: readonly Format[];
  readonly languages: readonly Language[];
  /** One paper from every file, instead of one from each. */
  readonly together: boolean;
  readonly prepare: (sources: readonly Source[], extra: Extra) => ReadResult<Prepared>;
}

/** What else the command line gave. */
export interface Extra {
  /** The visit after the repair, for a fault report. */
  readonly after: Source | null;
  readonly digest: Digest;
}
