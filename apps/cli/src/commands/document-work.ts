import type { ReadResult } from "@earthbell/model";

/** What a command does with each document it is given. */
export interface DocumentWork<Record, Result> {
  readonly read: (source: Uint8Array, file: string, firstLine?: number) => ReadResult<Record>;
  readonly solve: (record: Record) => Result;
  /** The result as a page; `title` is the name of the file. */
  readonly show: (solved: { record: Record; result: Result; title: string }) => readonly string[];
}

/** Most bytes of one document. */
export const mostBytes = 8 * 1024 * 1024;
