import { writeFile } from "node:fs/promises";
import type { UsageFault } from "../command-line/usage-fault.ts";
import { notWritten, systemCodeOf } from "./not-written.ts";

/** Writes a text to a file; returns what keeps it from being written, or null. */
export async function writeWhole(file: string, text: string): Promise<UsageFault | null> {
  try {
    await writeFile(file, text);
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
