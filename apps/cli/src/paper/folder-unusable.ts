import type { InputFault } from "@earthbell/model";
import { notWritten, systemCodeOf } from "../output/not-written.ts";

/** Papers cannot be kept in a folder; `fault` says why in the form of every other fault. */
export class FolderUnusable extends Error {
  override readonly name = "FolderUnusable";
  constructor(readonly fault: InputFault) {
    super(fault.message);
  }
}

const IN_THE_WAY: Readonly<Record<string, string>> = {
  EEXIST: "a file stands where a folder is needed",
  ENOTDIR: "a file stands where a folder is needed",
  ENOENT: "the system lets no folder be made there",
};

/**
 * Does something in a folder of papers.
 *
 * @throws FolderUnusable where the system refuses
 */
export async function inFolder<Result>(folder: string, work: () => Promise<Result>): Promise<Result> {
  try {
    return await work();
  } catch (error) {
    const code = systemCodeOf(error);
    if (code === null) throw error;
    throw new FolderUnusable({
      code: "FILE_FOLDER_UNUSABLE",
      file: folder,
      line: null,
      column: null,
      field: "",
      value: null,
      allowed: "a folder in which files can be made",
      message: `Papers cannot be kept there: ${IN_THE_WAY[code] ?? notWritten(code).why}.`,
    });
  }
}
