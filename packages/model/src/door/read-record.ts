import type { z } from "zod";
import type { InputFault, ReadResult } from "../faults/input-fault.ts";
import { fieldFaultsOf } from "../fields/field-faults-of.ts";
import { shownValue, type FieldFault } from "../fields/field-fault.ts";
import { openDocument, type OpenDocument, type ReadOptions } from "./open-document.ts";

/** One file format: its name, its fields, what must hold between them, and the record they make. */
export interface Format<File, Record> {
  readonly name: string;
  readonly fields: z.ZodType<File>;
  readonly consistency: (data: Readonly<globalThis.Record<string, unknown>>) => FieldFault[];
  readonly record: (file: File) => Record;
}

/** Reads one record of a format, or reports every fault of the input at once, in order of line. Never throws. */
export function readRecord<File, Record>(
  format: Format<File, Record>,
  source: string | Uint8Array,
  file: string,
  options: ReadOptions = {},
): ReadResult<Record> {
  const opened = openDocument(source, file, options);
  if (!opened.ok) return opened;
  const { document } = opened;
  const other = otherFormat(document, format.name);
  if (other) return { ok: false, faults: [other] };
  const parsed = format.fields.safeParse(document.data);
  const faults = [
    ...(parsed.success ? [] : fieldFaultsOf(parsed.error.issues, document.data)),
    ...format.consistency(document.data),
  ];
  if (!parsed.success || faults.length > 0 || document.troubles.length > 0)
    return { ok: false, faults: document.report(faults) };
  return { ok: true, record: format.record(parsed.data), warnings: [] };
}

/** A file of another format would fail in every field; one fault says why. */
function otherFormat(document: OpenDocument, name: string): InputFault | undefined {
  const written = document.data.format;
  if (written === undefined || written === null || written === name) return undefined;
  const message = `The file says it is ${shownValue(written) ?? ""}, and ${name} is wanted here.`;
  const fault: FieldFault = {
    code: "INPUT_FORMAT_WRONG",
    path: ["format"],
    part: "value",
    value: written,
    allowed: name,
    message,
  };
  return document.report([fault])[0];
}
