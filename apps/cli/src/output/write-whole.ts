import { writeFile } from "node:fs/promises";
import type { UsageFault } from "../command-line/usage-fault.ts";

/** What the commonest refusals of a system mean, for somebody who has never seen their codes. */
const WHY: Readonly<Record<string, string>> = {
  ENOENT: "its folder is not there",
  ENOTDIR: "its folder is not there",
  EISDIR: "it is a folder",
  EACCES: "the system does not permit it",
  EPERM: "the system does not permit it",
  EROFS: "the disk can only be read",
  ENOSPC: "the disk is full",
  ENAMETOOLONG: "its name is too long",
};

/** Writes a text to a file; returns what keeps it from being written, or null. */
export async function writeWhole(file: string, text: string): Promise<UsageFault | null> {
  try {
    await writeFile(file, text);
    return null;
  } catch (error) {
    const code = error instanceof Error && "code" in error ? String(error.code) : "unknown reason";
    return {
      code: "FILE_PATH_NOT_WRITABLE",
      message: `${JSON.stringify(file)} cannot be written: ${WHY[code] ?? code}.`,
      suggestions: [],
      lead: "example",
    };
  }
}
