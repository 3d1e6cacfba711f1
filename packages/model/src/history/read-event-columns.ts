import type * as z from "zod";
import { readRecord, type Format } from "../door/read-record.ts";
import type { ReadResult } from "../faults/input-fault.ts";
import { eventColumnsConsistency, eventColumnsFile, EVENTS_FORMAT } from "./event-columns-file.ts";

/** How an event log is read. */
export type EventColumns = Omit<z.output<typeof eventColumnsFile>, "format">;

const eventColumnsFormat: Format<z.output<typeof eventColumnsFile>, EventColumns> = {
  name: EVENTS_FORMAT,
  fields: eventColumnsFile,
  consistency: eventColumnsConsistency,
  record: ({ format: _, ...columns }) => columns,
};

/**
 * Reads a mapping of events (`earthbell.events/1`, YAML or JSON).
 *
 * @returns the mapping, or every fault of the file at once. Never throws.
 */
export function readEventColumns(source: string | Uint8Array, file: string): ReadResult<EventColumns> {
  return readRecord(eventColumnsFormat, source, file);
}
