import {
  type Digest,
  type Issue,
  issueOf,
  type Language,
  type Paper,
  paperHtml,
  paperNumber,
  paperPdf,
  revisionName,
  sheetCsv,
  sheetXlsx,
  type Typesetter,
} from "@earthbell/papers";
import type { InputFault } from "@earthbell/model";
import type { IssueFolder } from "./issue-folder.ts";
import type { Format, Prepared, Recipe } from "./recipe.ts";
import type { Sign } from "./signing-key.ts";

/** Everything of a command line that is the same for all of its papers. */
export interface Making {
  readonly recipe: Recipe;
  readonly formats: readonly Format[];
  readonly language: Language;
  readonly folder: IssueFolder;
  readonly digest: Digest;
  readonly today: string;
  readonly date: string | undefined;
  readonly by: string | undefined;
  readonly version: string;
  readonly sign: Sign | null;
  /** null where no PDF is wanted. */
  readonly typesetter: Typesetter | null;
}

/** A paper that was made, with the files it is in. */
export interface MadePaper {
  readonly issue: Issue;
  /** Nothing had changed since it was first made. */
  readonly again: boolean;
  readonly files: readonly string[];
  /** Characters that the PDF could not draw. */
  readonly notDrawn: string;
}

/** Makes one paper in every format asked for, and keeps the record of its issue. */
export async function makePaper(prepared: Prepared, making: Making): Promise<MadePaper | InputFault> {
  const { recipe, language, folder, digest, today, date, by, version } = making;
  const number = paperNumber({ kind: recipe.kind, of: prepared.of, language });
  const previous = await folder.latest(number);
  if (previous === "unreadable") return recordUnreadable(folder.recordFile(number));
  const issue = issueOf(
    {
      kind: recipe.kind,
      of: prepared.of,
      language,
      input: prepared.input,
      today,
      version,
      ...(date === undefined ? {} : { date }),
      ...(by === undefined ? {} : { by }),
      ...(previous === null ? {} : { previous }),
    },
    digest,
  );
  const files: string[] = [];
  let notDrawn = "";
  const paper = prepared.paper(issue);
  for (const format of making.formats) {
    const made = await rendered(format, { paper, prepared, issue, typesetter: making.typesetter });
    notDrawn ||= made.notDrawn;
    files.push(...(await written(`${revisionName(issue, digest)}.${format}`, made.bytes, making)));
  }
  await folder.keep(issue);
  return { issue, again: previous === issue, files, notDrawn };
}

async function written(
  name: string,
  bytes: Uint8Array,
  { folder, sign }: Making,
): Promise<readonly string[]> {
  const file = await folder.write(name, bytes);
  if (sign === null) return [file];
  return [file, await folder.write(`${name}.sig`, sign(name, bytes))];
}

interface Rendering {
  readonly paper: Paper;
  readonly prepared: Prepared;
  readonly issue: Issue;
  readonly typesetter: Typesetter | null;
}

async function rendered(
  format: Format,
  { paper, prepared, issue, typesetter }: Rendering,
): Promise<{ readonly bytes: Uint8Array; readonly notDrawn: string }> {
  switch (format) {
    case "pdf":
      return paperPdf(paper, typesetter!);
    case "html":
      return { bytes: Buffer.from(paperHtml(paper)), notDrawn: "" };
    case "csv":
      return { bytes: Buffer.from(sheetCsv(prepared.table!(issue))), notDrawn: "" };
    case "xlsx":
      return { bytes: await sheetXlsx(prepared.table!(issue)), notDrawn: "" };
  }
}

function recordUnreadable(file: string): InputFault {
  return {
    code: "PAPER_RECORD_UNREADABLE",
    file,
    line: null,
    column: null,
    field: "",
    value: null,
    allowed: "a record of an earlier issue, as it was written",
    message: "The record of the earlier issue of this paper cannot be used, so no revision can be given.",
  };
}
