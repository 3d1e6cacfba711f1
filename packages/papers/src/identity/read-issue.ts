import { PAPER_KINDS } from "../content/paper-kind.ts";
import { LANGUAGES } from "../language/language.ts";
import { canonicalJson, type Json } from "./canonical.ts";
import { type Digest, type Issue, ISSUE_FORMAT } from "./issue.ts";
import type { IssueRecord, Revision } from "./issue-record.ts";

/** The record of a paper as text, one that `readIssue` takes back. */
export function issueText({ issue, revisions }: IssueRecord): string {
  return `${JSON.stringify({ ...issue, revisions }, null, 2)}\n`;
}

/**
 * The record of an earlier issue, or null where the text is none or was altered: its inputs must have the digest it states.
 */
export function readIssue(text: string, digest: Digest): IssueRecord | null {
  const data = parsed(text);
  if (!isIssue(data) || digest(canonicalJson(data.input)) !== data.digest) return null;
  const { revisions, ...issue } = data;
  return { issue, revisions };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return null;
  }
}

function isIssue(data: unknown): data is Issue & Pick<IssueRecord, "revisions"> {
  if (typeof data !== "object" || data === null) return false;
  const fields = data as Readonly<Record<string, Json>>;
  const texts = ["number", "date", "version", "digest"].every((name) => typeof fields[name] === "string");
  return (
    texts &&
    fields["format"] === ISSUE_FORMAT &&
    Number.isInteger(fields["revision"]) &&
    (fields["by"] === null || typeof fields["by"] === "string") &&
    (PAPER_KINDS as readonly unknown[]).includes(fields["kind"]) &&
    (LANGUAGES as readonly unknown[]).includes(fields["language"]) &&
    /^\d{4}-\d\d-\d\d$/u.test(fields["date"] as string) &&
    Array.isArray(fields["changes"]) &&
    Array.isArray(fields["revisions"]) &&
    (fields["revisions"] as readonly unknown[]).every(isRevision) &&
    "input" in fields
  );
}

function isRevision(data: unknown): data is Revision {
  if (typeof data !== "object" || data === null) return false;
  const { revision, date, files } = data as Partial<Record<keyof Revision, unknown>>;
  return (
    Number.isInteger(revision) &&
    typeof date === "string" &&
    Array.isArray(files) &&
    (files as readonly unknown[]).every(isFile)
  );
}

function isFile(data: unknown): boolean {
  if (typeof data !== "object" || data === null) return false;
  const { name, sha256 } = data as { readonly name?: unknown; readonly sha256?: unknown };
  return typeof name === "string" && typeof sha256 === "string";
}
