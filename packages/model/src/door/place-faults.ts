import type { InputFault } from "../faults/input-fault.ts";
import { fieldName, shownValue, type FieldFault } from "../fields/field-fault.ts";
import { DEEPEST_NESTING } from "../yaml/reading.ts";
import type { Trouble } from "../yaml/read-yaml.ts";
import type { Place } from "./line-index.ts";
import { offsetsOf } from "./offsets.ts";

/** More faults than this are not listed: nobody reads them. */
const MOST_FAULTS = 1000;

/** A text, the name of its file, and how its offsets become lines. */
export interface PlacedText {
  readonly text: string;
  readonly file: string;
  readonly placeOf: (offset: number) => Place;
}

/** Gives each fault its line and sorts them by it. */
export function placeFaults(
  source: PlacedText,
  faults: readonly FieldFault[],
  troubles: readonly Trouble[],
): InputFault[] {
  const offsetOf = offsetsOf(
    source.text,
    faults.map(({ path }) => path),
  );
  const placed = [
    ...troubles.map((trouble) => placeTrouble(source, trouble)),
    ...faults.map((fault) => placeFault(source, fault, offsetOf(fault.path, fault.part))),
  ].sort((a, b) => (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0));
  return placed.length <= MOST_FAULTS
    ? placed
    : [...placed.slice(0, MOST_FAULTS), theRest(placed[MOST_FAULTS]!)];
}

function placeFault(source: PlacedText, fault: FieldFault, offset: number): InputFault {
  const { code, path, value, allowed, message } = fault;
  const { file } = source;
  return {
    code,
    file,
    ...source.placeOf(offset),
    field: fieldName(path),
    value: shownValue(value),
    allowed,
    message,
  };
}

/** A fault of the text itself; a negative offset stands for the file as a whole. */
export function placeTrouble(source: PlacedText, trouble: Trouble): InputFault {
  const { code, path, message, offset } = trouble;
  const place = offset < 0 ? { line: null, column: null } : source.placeOf(offset);
  const allowed = ALLOWED[code] ?? "one record in YAML or JSON, in UTF-8";
  return { code, file: source.file, ...place, field: fieldName(path), value: null, allowed, message };
}

const ALLOWED: Readonly<Record<string, string>> = {
  INPUT_KEY_DUPLICATE: "each key once in a map",
  INPUT_NESTING_TOO_DEEP: `at most ${DEEPEST_NESTING} maps and lists inside one another`,
};

function theRest(next: InputFault): InputFault {
  const message = `More than ${MOST_FAULTS} faults were found; the rest is not listed.`;
  return {
    ...next,
    code: "INPUT_FAULTS_TOO_MANY",
    field: "",
    value: null,
    allowed: "a file without faults",
    message,
  };
}
