import { mkdir, readdir, readFile, rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { type Digest, fileName, type IssueFolder, issueText, readIssue } from "@earthbell/papers";

const RECORD = ".issue.json";

/** A folder in which papers are kept, each with the record of its issues. */
export async function openIssueFolder(folder: string, digest: Digest): Promise<IssueFolder> {
  await mkdir(folder, { recursive: true });
  const recordName = (number: string): string => `${fileName(number, digest)}${RECORD}`;
  /** Whole or not at all: a file half written would look altered for ever. */
  const write = async (name: string, bytes: Uint8Array | string): Promise<string> => {
    const path = join(folder, name);
    const draft = `${path}.part`;
    await writeFile(draft, bytes);
    await rename(draft, path);
    return path;
  };
  return {
    write,
    latest: async (number) => {
      const text = await bytesOf(join(folder, recordName(number)));
      return text === null ? null : (readIssue(text.toString("utf8"), digest) ?? "unreadable");
    },
    keep: async (record) => {
      await write(recordName(record.issue.number), issueText(record));
    },
    names: async () => (await readdir(folder)).filter((name) => name.endsWith(RECORD)),
    read: (name) => bytesOf(join(folder, name)),
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
