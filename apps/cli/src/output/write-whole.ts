import { lstat, rename, rm, writeFile } from "node:fs/promises";
import type { UsageFault } from "../command-line/usage-fault.ts";
import { notWritten, systemCodeOf } from "./not-written.ts";

/**
 * Writes a text to a file, whole or not at all: a file that is there stays as it is where the disk does not take the new one.
 * Returns what keeps it from being written, or null.
 */
export async function writeWhole(file: string, text: string): Promise<UsageFault | null> {
  try {
    if (await isReplaceable(file)) await replace(file, text);
    else await writeFile(file, text);
    return null;
  } catch (error) {
    const { why, next } = notWritten(systemCodeOf(error) ?? "unknown reason");
    return {
      code: "FILE_PATH_NOT_WRITABLE",
      message: `${JSON.stringify(file)} cannot be written: ${why}.`,
      suggestions: [next],
      lead: "next",
    };
  }
}

/** A device, a pipe or a link is written to, never put aside. */
async function isReplaceable(file: string): Promise<boolean> {
  const found = await lstat(file).catch(() => null);
  return found === null || found.isFile();
}

async function replace(file: string, text: string): Promise<void> {
  const draft = `${file}.part`;
  try {
    await writeFile(draft, text);
    await rename(draft, file);
  } catch (error) {
    await rm(draft, { force: true });
    throw error;
  }
}
