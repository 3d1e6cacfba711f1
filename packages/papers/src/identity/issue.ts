import type { Language } from "../language/language.ts";
import type { PaperKind } from "../content/paper-kind.ts";
import { canonicalJson, type Json } from "./canonical.ts";
import { compareInputs, type InputChange } from "./compare-inputs.ts";

export const ISSUE_FORMAT = "earthbell.issue/1";

/** Who a paper is: what is printed on it, and what is kept beside it so that the next issue knows what changed. */
export interface Issue {
  readonly format: typeof ISSUE_FORMAT;
  readonly kind: PaperKind;
  /** The same for every revision: `owner-notice creamery`. */
  readonly number: string;
  /** From 1. */
  readonly revision: number;
  /** YYYY-MM-DD. */
  readonly date: string;
  /** null: nobody said. */
  readonly by: string | null;
  readonly language: Language;
  /** Version of the program. */
  readonly version: string;
  /** SHA-256 of the inputs as canonical JSON, in hexadecimal. */
  readonly digest: string;
  readonly changes: readonly InputChange[];
  readonly input: Json;
}

export interface IssueRequest {
  readonly kind: PaperKind;
  /** Id of the site or name of the visit. */
  readonly of: string;
  readonly language: Language;
  readonly input: Json;
  /** Date of the paper where it is a new one. */
  readonly today: string;
  /** A date that was asked for; a paper issued before under another date then becomes a new revision. */
  readonly date?: string;
  readonly by?: string;
  readonly version: string;
  /** The latest issue of the same number. */
  readonly previous?: Issue;
}

/** Hexadecimal SHA-256 of a text in UTF-8. */
export type Digest = (text: string) => string;

/** The number under which all revisions of a paper go. */
export function paperNumber({ kind, of, language }: Pick<IssueRequest, "kind" | "of" | "language">): string {
  return `${kind}${language === "en" ? "" : `-${language}`} ${of}`;
}

/**
 * The issue of a paper. Where nothing changed since the previous one it is that one, so that the paper comes out the same to
 * the byte; otherwise the next revision, which says what changed.
 */
export function issueOf(request: IssueRequest, digest: Digest): Issue {
  const { kind, language, input, version, previous, today } = request;
  const number = paperNumber(request);
  const known = previous?.number === number ? previous : undefined;
  const fresh = {
    digest: digest(canonicalJson(input)),
    date: request.date ?? today,
    by: request.by ?? known?.by ?? null,
    version,
  };
  const changes = known === undefined ? [] : changesSince(known, request, fresh.digest);
  if (known !== undefined && changes.length === 0) return known;
  return {
    format: ISSUE_FORMAT,
    kind,
    number,
    revision: (known?.revision ?? 0) + 1,
    language,
    ...fresh,
    changes,
    input,
  };
}

function changesSince(known: Issue, request: IssueRequest, digest: string): readonly InputChange[] {
  const { version, date, by, input } = request;
  const differs = (what: string, before: string | null, now: string | undefined): readonly InputChange[] =>
    now === undefined || now === before ? [] : [{ what, before, now }];
  const compared = compareInputs(known.input, input);
  // The same entries in another order have another digest, and nothing in them differs.
  const order: InputChange = { what: "order of entries", before: null, now: null };
  const inputs = digest === known.digest ? [] : compared.length > 0 ? compared : [order];
  return [
    ...inputs,
    ...differs("date", known.date, date),
    ...differs("made by", known.by, by),
    ...differs("version of the program", known.version, version),
  ];
}
