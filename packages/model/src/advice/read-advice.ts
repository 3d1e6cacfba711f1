import type { AdviceAnswers } from "@earthbell/engine";
import type * as z from "zod";
import type { ReadOptions } from "../door/open-document.ts";
import { readRecord, type Format } from "../door/read-record.ts";
import type { ReadResult } from "../faults/input-fault.ts";
import { datesReversed } from "../fields/dates-reversed.ts";
import { duplicateIds, entriesOf, type Entry } from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";
import { ADVICE_FORMAT, adviceFile } from "./advice-file.ts";

function* adviceConsistency(data: Readonly<Record<string, unknown>>): Generator<FieldFault> {
  const root: Entry = { path: [], fields: data };
  const people = entriesOf(root, "people");
  yield* duplicateIds(people, "Person");
  for (const person of people)
    for (const absence of entriesOf(person, "away")) yield* datesReversed(absence, "from", "to");
}

const adviceFormat: Format<z.output<typeof adviceFile>, AdviceAnswers> = {
  name: ADVICE_FORMAT,
  fields: adviceFile,
  consistency: adviceConsistency,
  record: ({ site, ...answers }) => ({ ...site, ...answers }),
};

/**
 * Reads the answers of an installer (`earthbell.advice/1`, YAML or JSON), quantities in base units. Every answer may be
 * missing.
 *
 * @returns the answers, or every fault of the file at once in order of line. Never throws.
 */
export function readAdvice(
  source: string | Uint8Array,
  file: string,
  options: ReadOptions = {},
): ReadResult<AdviceAnswers> {
  return readRecord(adviceFormat, source, file, options);
}
