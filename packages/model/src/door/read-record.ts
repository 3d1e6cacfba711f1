import type * as z from "zod";
import type { ReadResult } from "../faults/input-fault.ts";
import { fieldFaultsOf } from "../fields/field-faults-of.ts";
import { fieldName, shownValue, type FieldFault } from "../fields/field-fault.ts";
import { openDocument, type OpenDocument, type ReadOptions } from "./open-document.ts";

/** One file format: its name, its fields, what must hold between them, and the record they make. */
export interface Format<File, Record> {
  readonly name: string;
  readonly fields: z.ZodType<File>;
  /** Faults between fields, one after another, so that a hostile file's millions are never all made. */
  readonly consistency: (data: OpenDocument["data"]) => Iterable<FieldFault>;
  readonly record: (file: File) => Record;
}

/** Enough to fill the list of faults from either source. */
const ENOUGH_FAULTS = 2000;

/** Reads one record of a format, or reports every fault of the input at once, in order of line. Never throws. */
export function readRecord<File, Record>(
  format: Format<File, Record>,
  source: string | Uint8Array,
  file: string,
  options: ReadOptions = {},
): ReadResult<Record> {
  const opened = openDocument(source, file, options);
  if (!opened.ok) return opened;
  const { data, sound, report } = opened.document;
  const other = otherFormat(data.format, format.name);
  if (other) return { ok: false, faults: report([other]) };
  const parsed = format.fields.safeParse(data);
  const faults = parsed.success ? [] : fieldFaultsOf(parsed.error.issues, data);
  addConsistency(faults, format.consistency(data));
  if (!parsed.success || faults.length > 0 || !sound) return { ok: false, faults: report(faults) };
  return { ok: true, record: format.record(parsed.data), warnings: [] };
}

/** Adds faults between fields, but none where the field alone is already at fault. */
function addConsistency(faults: FieldFault[], more: Iterable<FieldFault>): void {
  const atFault = new Set(faults.map(({ path }) => fieldName(path)));
  const enough = faults.length + ENOUGH_FAULTS;
  for (const fault of more) {
    if (atFault.has(fieldName(fault.path))) continue;
    if (faults.push(fault) >= enough) return;
  }
}

/** A file of another format would fail in every field; one fault says why. */
function otherFormat(written: unknown, name: string): FieldFault | undefined {
  if (written === undefined || written === null || written === name) return undefined;
  const message = `The file says it is ${shownValue(written) ?? ""}, and ${name} is wanted here.`;
  return {
    code: "INPUT_FORMAT_WRONG",
    path: ["format"],
    part: "value",
    value: written,
    allowed: name,
    message,
  };
}
