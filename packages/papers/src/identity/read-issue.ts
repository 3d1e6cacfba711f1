import { PAPER_KINDS } from "../content/paper-kind.ts";
import { LANGUAGES } from "../language/language.ts";
import { canonicalJson, type Json } from "./canonical.ts";
import { type Digest, type Issue, ISSUE_FORMAT } from "./issue.ts";

/** The record of an issue as text, one that `readIssue` takes back. */
export function issueText(issue: Issue): string {
  return `${JSON.stringify(issue, null, 2)}\n`;
}

/**
 * The record of an earlier issue, or null where the text is none or was altered: its inputs must have the digest it states.
 */
export function readIssue(text: string, digest: Digest): Issue | null {
  const data = parsed(text);
  return isIssue(data) && digest(canonicalJson(data.input)) === data.digest ? data : null;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return null;
  }
}

function isIssue(data: unknown): data is Issue {
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
    "input" in fields
  );
}
