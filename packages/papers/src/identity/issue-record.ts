import type { InputChange } from "./compare-inputs.ts";
import type { Issue } from "./issue.ts";

/** One file of a revision, by what it holds. */
export interface IssuedFile {
  readonly name: string;
  /** Of its bytes, in hexadecimal. */
  readonly sha256: string;
}

/** One revision of a paper, as it is remembered after later ones. */
export interface Revision extends Pick<Issue, "revision" | "date" | "by" | "version" | "digest"> {
  /** The first of what changed since the revision before. */
  readonly changes: readonly InputChange[];
  /** How many things changed. */
  readonly changed: number;
  readonly files: readonly IssuedFile[];
}

/** What is kept beside a paper: its latest issue whole, and every revision with its files, the oldest first. */
export interface IssueRecord {
  readonly issue: Issue;
  readonly revisions: readonly Revision[];
}

/** Changes of a revision that are remembered in words; the rest are counted. */
const MOST_CHANGES = 40;

/** The record after files of an issue were made: a further revision, or further files of the newest one. */
export function recordAfter(
  before: IssueRecord | null,
  issue: Issue,
  files: readonly IssuedFile[],
): IssueRecord {
  const known = before?.revisions ?? [];
  const earlier = known.filter(({ revision }) => revision !== issue.revision);
  const same = known.find(({ revision }) => revision === issue.revision)?.files ?? [];
  const made = new Set(files.map(({ name }) => name));
  const { revision, date, by, version, digest, changes } = issue;
  const newest: Revision = {
    revision,
    date,
    by,
    version,
    digest,
    changes: changes.slice(0, MOST_CHANGES),
    changed: changes.length,
    files: [...same.filter(({ name }) => !made.has(name)), ...files],
  };
  return { issue, revisions: [...earlier, newest] };
}
