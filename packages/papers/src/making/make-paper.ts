import type { Paper } from "../content/paper.ts";
import { paperHtml } from "../html/paper-html.ts";
import { revisionName } from "../identity/file-name.ts";
import { type Digest, type Issue, issueOf, paperNumber } from "../identity/issue.ts";
import { type IssuedFile, type IssueRecord, recordAfter } from "../identity/issue-record.ts";
import type { Language } from "../language/language.ts";
import { paperPdf, type Typesetter } from "../pdf/paper-pdf.ts";
import type { ShownPhotos } from "../pictures/shown-photos.ts";
import { sheetCsv } from "../sheets/sheet-csv.ts";
import { sheetXlsx } from "../sheets/sheet-xlsx.ts";
import type { PaperFormat, Prepared, Recipe } from "./recipe.ts";

/** Where papers are kept, each with the record of its issues. */
export interface IssueFolder {
  /** null: none yet; "unreadable": there is one and it is no record, or was altered. */
  readonly latest: (number: string) => Promise<IssueRecord | null | "unreadable">;
  /** Keeps a file whole or not at all; answers where it lies. */
  readonly write: (name: string, bytes: Uint8Array | string) => Promise<string>;
  readonly keep: (record: IssueRecord) => Promise<void>;
  /** Names of the records that are kept here. */
  readonly names: () => Promise<readonly string[]>;
  /** A file of this folder by its name; null: there is none. */
  readonly read: (name: string) => Promise<Uint8Array | null>;
}

/** Who makes papers, when, and by what. */
export interface Maker {
  readonly language: Language;
  readonly digest: Digest;
  /** SHA-256 of bytes, in hexadecimal. */
  readonly digestOfBytes: (bytes: Uint8Array) => string;
  /** Date of a new issue, YYYY-MM-DD. */
  readonly today: string;
  /** A date that was asked for. */
  readonly date?: string;
  readonly by?: string;
  readonly version: string;
}

export interface Making extends Maker {
  readonly formats: readonly PaperFormat[];
  readonly folder: IssueFolder;
  /** Text of the signature over a file's bytes; null where files are not signed. */
  readonly sign: ((file: string, bytes: Uint8Array) => string) | null;
  /** null where no PDF is wanted. */
  readonly typesetter: Typesetter | null;
  /** Photos of the paper as they can be shown. */
  readonly photos: ShownPhotos;
}

/** A paper that was made, with the files it is in. */
export interface MadePaper {
  readonly issue: Issue;
  /** Nothing had changed since it was first made. */
  readonly again: boolean;
  readonly files: readonly string[];
  readonly issued: readonly IssuedFile[];
  /** Characters that the PDF could not draw. */
  readonly notDrawn: string;
}

/** The record of the earlier issues of a paper is no record, or was altered. */
export interface RecordUnreadable {
  readonly unreadable: string;
}

/** The issue that a paper has if it is made now: the latest one where nothing changed, else the next revision. */
export function issueNow(
  kind: Recipe["kind"],
  { of, input }: Pick<Prepared, "of" | "input">,
  { language, digest, today, date, by, version }: Maker,
  previous: Issue | null,
): Issue {
  return issueOf(
    {
      kind,
      of,
      language,
      input,
      today,
      version,
      ...(date === undefined ? {} : { date }),
      ...(by === undefined ? {} : { by }),
      ...(previous === null ? {} : { previous }),
    },
    digest,
  );
}

/** Makes one paper in every format asked for, and keeps the record of its issue. */
export async function makePaper(
  kind: Recipe["kind"],
  prepared: Prepared,
  making: Making,
): Promise<MadePaper | RecordUnreadable> {
  const { language, folder, digest } = making;
  const number = paperNumber({ kind, of: prepared.of, language });
  const record = await folder.latest(number);
  if (record === "unreadable") return { unreadable: number };
  const previous = record?.issue ?? null;
  const issue = issueNow(kind, prepared, making, previous);
  const files: string[] = [];
  const issued: IssuedFile[] = [];
  let notDrawn = "";
  const paper = prepared.paper(issue, making.photos);
  for (const format of making.formats) {
    const made = await rendered(format, { paper, prepared, issue, typesetter: making.typesetter });
    notDrawn ||= made.notDrawn;
    const name = `${revisionName(issue, digest)}.${format}`;
    files.push(await folder.write(name, made.bytes));
    if (making.sign !== null) files.push(await folder.write(`${name}.sig`, making.sign(name, made.bytes)));
    issued.push({ name, sha256: making.digestOfBytes(made.bytes) });
  }
  await folder.keep(recordAfter(record, issue, issued));
  return { issue, again: previous === issue, files, issued, notDrawn };
}

interface Rendering {
  readonly paper: Paper;
  readonly prepared: Prepared;
  readonly issue: Issue;
  readonly typesetter: Typesetter | null;
}

async function rendered(
  format: PaperFormat,
  { paper, prepared, issue, typesetter }: Rendering,
): Promise<{ readonly bytes: Uint8Array; readonly notDrawn: string }> {
  switch (format) {
    case "pdf":
      return paperPdf(paper, typesetter!);
    case "html":
      return { bytes: new TextEncoder().encode(paperHtml(paper)), notDrawn: "" };
    case "csv":
      return { bytes: new TextEncoder().encode(sheetCsv(prepared.table!(issue))), notDrawn: "" };
    case "xlsx":
      return { bytes: await sheetXlsx(prepared.table!(issue)), notDrawn: "" };
  }
}
