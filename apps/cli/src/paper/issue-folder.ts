import { readdir, readFile, rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { type Digest, fileName, type IssueFolder, issueText, readIssue } from "@earthbell/papers";
import { makeFolder } from "../output/make-folder.ts";
import { inFolder } from "./folder-unusable.ts";

const RECORD = ".issue.json";

/**
 * A folder in which papers are kept, each with the record of its issues.
 *
 * @throws FolderUnusable where the system refuses to make it; so do its functions, where it refuses to write or read in it
 */
export async function openIssueFolder(folder: string, digest: Digest): Promise<IssueFolder> {
  await inFolder(folder, () => makeFolder(folder));
  const recordName = (number: string): string => `${fileName(number, digest)}${RECORD}`;
  /** Whole or not at all: a file half written would look altered for ever. */
  const write = (name: string, bytes: Uint8Array | string): Promise<string> =>
    inFolder(folder, async () => {
      const path = join(folder, name);
      const draft = `${path}.part`;
      await writeFile(draft, bytes);
      await rename(draft, path);
      return path;
    });
  const read = (name: string): Promise<Buffer | null> => inFolder(folder, () => bytesOf(join(folder, name)));
  return {
    write,
    latest: async (number) => {
      const text = await read(recordName(number));
      return text === null ? null : (readIssue(text.toString("utf8"), digest) ?? "unreadable");
    },
    keep: async (record) => {
      await write(recordName(record.issue.number), issueText(record));
    },
    names: () =>
      inFolder(folder, async () => (await readdir(folder)).filter((name) => name.endsWith(RECORD))),
    read,
  };
}

async function bytesOf(path: string): Promise<Buffer | null> {
  try {
    return await readFile(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return null;
    throw error;
  }
}
