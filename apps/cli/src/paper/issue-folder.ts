import { mkdir, readFile, rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { type Digest, fileName, type Issue, issueText, readIssue } from "@earthbell/papers";

/** A folder in which papers are kept, each with the record of its latest issue. */
export interface IssueFolder {
  /** null: none yet; "unreadable": there is one and it is no record, or was altered. */
  readonly latest: (number: string) => Promise<Issue | null | "unreadable">;
  readonly recordFile: (number: string) => string;
  readonly write: (name: string, bytes: Uint8Array | string) => Promise<string>;
  readonly keep: (issue: Issue) => Promise<void>;
}

export async function openIssueFolder(folder: string, digest: Digest): Promise<IssueFolder> {
  await mkdir(folder, { recursive: true });
  const recordFile = (number: string): string => join(folder, `${fileName(number, digest)}.issue.json`);
  /** Whole or not at all: a file half written would look altered for ever. */
  const write = async (name: string, bytes: Uint8Array | string): Promise<string> => {
    const path = join(folder, name);
    const draft = `${path}.part`;
    await writeFile(draft, bytes);
    await rename(draft, path);
    return path;
  };
  return {
    recordFile,
    write,
    latest: async (number) => {
      const text = await textOf(recordFile(number));
      return text === null ? null : (readIssue(text, digest) ?? "unreadable");
    },
    keep: async (issue) => {
      await write(`${fileName(issue.number, digest)}.issue.json`, issueText(issue));
    },
  };
}

async function textOf(path: string): Promise<string | null> {
  try {
    return await readFile(path, "utf8");
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return null;
    throw error;
  }
}
