import type * as z from "zod";
import type { ReadOptions } from "../door/open-document.ts";
import { readRecord, type Format } from "../door/read-record.ts";
import type { ReadResult } from "../faults/input-fault.ts";
import { deskConsistency } from "./desk-consistency.ts";
import { DESK_FORMAT, deskFile } from "./desk-file.ts";

/** What a desk file says; durations in minutes. Secrets are still names of places to read them from. */
export type DeskSettings = Omit<z.output<typeof deskFile>, "format">;

const deskFormat: Format<z.output<typeof deskFile>, DeskSettings> = {
  name: DESK_FORMAT,
  fields: deskFile,
  consistency: deskConsistency,
  record: ({ format: _, ...settings }) => settings,
};

/**
 * Reads the settings of a desk (`earthbell.desk/1`, YAML or JSON).
 *
 * @returns the settings, or every fault of the file at once in order of line. Never throws.
 */
export function readDesk(
  source: string | Uint8Array,
  file: string,
  options: ReadOptions = {},
): ReadResult<DeskSettings> {
  return readRecord(deskFormat, source, file, options);
}
