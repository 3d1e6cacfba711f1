import type { InputFault } from "@earthbell/model";
import type { PaperKind } from "../content/paper-kind.ts";
import { paperHtml } from "../html/paper-html.ts";
import { type Digest, type Issue, paperNumber } from "../identity/issue.ts";
import type { Language } from "../language/language.ts";
import type { Typesetter } from "../pdf/paper-pdf.ts";
import { type PhotoTools, showPhotos, type ShownPhotos } from "../pictures/shown-photos.ts";
import { type IssueFolder, issueNow, type MadePaper, makePaper, type Maker } from "./make-paper.ts";
import type { Extra, PaperFormat, Prepared, Source } from "./recipe.ts";
import { recipes } from "./recipes.ts";

/** One paper to be made, as plain data that can be handed to another thread. */
export interface PaperJob {
  /** draft: as HTML to be looked at; nothing is kept. */
  readonly what: "issue" | "draft";
  readonly kind: PaperKind;
  readonly sources: readonly Source[];
  readonly extra: Extra;
  readonly language: Language;
  readonly formats: readonly PaperFormat[];
  /** Path of the folder in which issues are kept. */
  readonly folder: string;
  /** Path of the folder in which photos are kept; left out: there is none. */
  readonly photoFolder?: string;
  readonly today: string;
  readonly date?: string;
  readonly by?: string;
  readonly version: string;
  /** Private key (PEM) that signs each file; null: none does. */
  readonly signKey: string | null;
}

export interface Draft {
  readonly issue: Issue;
  readonly again: boolean;
  readonly html: string;
}

export type JobResult =
  | { readonly ok: true; readonly what: "issue"; readonly made: MadePaper; readonly warnings: Warnings }
  | { readonly ok: true; readonly what: "draft"; readonly draft: Draft; readonly warnings: Warnings }
  | { readonly ok: false; readonly faults: readonly InputFault[] };
type Warnings = readonly InputFault[];

/** What the program brings: the disk, the compiler, digests and keys. */
export interface JobTools {
  readonly openFolder: (path: string) => Promise<IssueFolder>;
  /** The compiler, or why there is none. */
  readonly typesetter: () => Promise<Typesetter | { readonly missing: string }>;
  /** Left out: no photo can be shown. */
  readonly photos?: PhotoTools;
  readonly digest: Digest;
  readonly digestOfBytes: (bytes: Uint8Array) => string;
  /** A signer with a private key, or null where the text is none. */
  readonly signerOf: (pem: string) => ((file: string, bytes: Uint8Array) => string) | null;
}

/** Makes one paper, from the files it is about to the files it is in. */
export async function runJob(job: PaperJob, tools: JobTools): Promise<JobResult> {
  const recipe = recipes.find(({ kind }) => kind === job.kind)!;
  const read = recipe.prepare(job.sources, job.extra);
  if (!read.ok) return read;
  const { record: prepared, warnings } = read;
  const maker: Maker = { ...job, digest: tools.digest, digestOfBytes: tools.digestOfBytes };
  const folder = await tools.openFolder(job.folder);
  const number = paperNumber({ kind: job.kind, of: prepared.of, language: job.language });
  if (job.what === "draft") {
    const record = await folder.latest(number);
    if (record === "unreadable") return refused(recordUnreadable(number));
    const previous = record?.issue ?? null;
    const issue = issueNow(job.kind, prepared, maker, previous);
    const html = paperHtml(prepared.paper(issue, await photosOf(prepared, job, tools)));
    return { ok: true, what: "draft", draft: { issue, again: issue === previous, html }, warnings };
  }
  const sign = job.signKey === null ? null : tools.signerOf(job.signKey);
  if (job.signKey !== null && sign === null) return refused(faultOf(keyWords, ""));
  const typesetter = job.formats.includes("pdf") ? await tools.typesetter() : null;
  if (typesetter !== null && "missing" in typesetter)
    return refused(faultOf(compilerWords, typesetter.missing));
  const made = await makePaper(job.kind, prepared, {
    ...maker,
    photos: await photosOf(prepared, job, tools),
    formats: job.formats,
    folder,
    sign,
    typesetter,
  });
  if ("unreadable" in made) return refused(recordUnreadable(made.unreadable));
  return { ok: true, what: "issue", made, warnings };
}

function photosOf(
  { photos = [] }: Prepared,
  { photoFolder, extra }: PaperJob,
  tools: JobTools,
): Promise<ShownPhotos> {
  const files = new Map((extra.photoFiles ?? []).map(({ sha256, path }) => [sha256, path]));
  if (tools.photos === undefined || (photoFolder === undefined && files.size === 0))
    return Promise.resolve(new Map());
  // A file of somebody's names no photos of the desk: it might be those of another's site.
  const kept = (digest: string): string | null =>
    photoFolder === undefined || extra.records === undefined ? null : `${photoFolder}/${digest}`;
  return showPhotos(photos, (digest) => files.get(digest) ?? kept(digest), tools.photos);
}

function refused(fault: InputFault): JobResult {
  return { ok: false, faults: [fault] };
}

const keyWords = {
  code: "PAPER_KEY_UNREADABLE",
  file: "the key",
  allowed: "an Ed25519 key in PEM",
  message: "It holds no Ed25519 key in PEM.",
};
const compilerWords = {
  code: "PAPER_COMPILER_MISSING",
  file: "this computer",
  allowed: "html, which needs no compiler",
  message: "PDF cannot be made here",
};

function recordUnreadable(number: string): InputFault {
  return faultOf(
    {
      code: "PAPER_RECORD_UNREADABLE",
      file: `record of ${number}`,
      allowed: "a record of an earlier issue, as it was written",
      message: "The record of the earlier issue of this paper cannot be used, so no revision can be given.",
    },
    "",
  );
}

function faultOf(words: Pick<InputFault, "code" | "file" | "allowed" | "message">, why: string): InputFault {
  const message = why === "" ? words.message : `${words.message}: ${why}.`;
  return { ...words, message, line: null, column: null, field: "", value: null };
}
