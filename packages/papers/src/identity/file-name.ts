import type { Digest, Issue } from "./issue.ts";

const LONGEST_NAME = 80;

/**
 * The name under which the files of a paper are kept: letters, digits and hyphens only. Where that changes the number, part
 * of its digest is added, so that two papers never share a name.
 */
export function fileName(number: string, digest: Digest): string {
  const plain = number.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/gu, "");
  const spoken = number.replace(" ", "-");
  if (plain === spoken && plain.length <= LONGEST_NAME) return plain;
  return `${plain.slice(0, LONGEST_NAME)}-${digest(number).slice(0, 8)}`;
}

/** The name of one revision, without its ending. */
export function revisionName(issue: Issue, digest: Digest): string {
  return `${fileName(issue.number, digest)}-${issue.revision}`;
}
