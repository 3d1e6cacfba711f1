import { entriesOf, repeatedReferences, textsOf, unknownReferences, type Entry } from "../fields/entries.ts";
import type { FaultCode } from "../faults/catalogue.ts";
import type { FieldFault } from "../fields/field-fault.ts";
import { instrumentsOf, type InstrumentKind, type Instruments } from "./instruments.ts";
import { READING_VALUES } from "./visit-file.ts";

/** The strings and circuits that a reading can be taken on. */
export interface Wiring {
  /** Modules in series by string id; undefined where the file does not say it soundly. */
  readonly strings: ReadonlyMap<string, number | undefined>;
  readonly circuits: ReadonlyMap<string, ReadonlySet<string>>;
}

/** Faults of readings that only show beside the wiring and the instruments. */
export function* readingFaults(root: Entry, wiring: Wiring): Generator<FieldFault> {
  const instruments = instrumentsOf(root);
  const places = new Set([...wiring.strings.keys(), ...wiring.circuits.keys()]);
  for (const reading of entriesOf(root, "readings")) {
    const kind = instruments.kindOf(reading.fields);
    yield* withFaults(reading, kind, instruments);
    yield* unknownReferences(textsOf(reading, "on"), places, "string or circuit");
    yield* segmentFaults(reading, wiring);
    yield* isolatedFaults(reading, wiring);
    if (kind) yield* terminalFaults(reading, kind);
    if (kind) yield* figureFaults(reading, kind);
  }
}

function faultAt(entry: Entry, field: string, code: FaultCode, allowed: string, message: string): FieldFault {
  return { code, path: [...entry.path, field], part: "value", value: entry.fields[field], allowed, message };
}

function* withFaults(
  reading: Entry,
  kind: InstrumentKind | undefined,
  { names, onlyOne }: Instruments,
): Generator<FieldFault> {
  if (reading.fields.with !== undefined) {
    if (names) yield* unknownReferences(textsOf(reading, "with"), names, "instrument");
  } else if (kind !== undefined && onlyOne(kind) === undefined) {
    const allowed = `one of ${[...(names ?? [])].join(", ")}`;
    const message = `with is missing, and there are several of kind ${kind}.`;
    yield faultAt(reading, "with", "INPUT_FIELD_MISSING", allowed, message);
  }
}

function* segmentFaults(reading: Entry, wiring: Wiring): Generator<FieldFault> {
  const { segment, on } = reading.fields;
  if (!Array.isArray(segment) || typeof on !== "string") return;
  const code = "VISIT_SEGMENT_INVALID";
  if (wiring.circuits.has(on)) {
    const message = `A segment is part of one string, and ${on} is a circuit.`;
    yield faultAt(reading, "segment", code, "a segment only where on names a string", message);
    return;
  }
  const [a, b] = segment as unknown[];
  const modules = wiring.strings.get(on);
  if (!Number.isInteger(a) || !Number.isInteger(b) || modules === undefined) return;
  if ((a as number) < (b as number) && (b as number) <= modules) return;
  const message = `${on} has nodes 0 to ${modules}, and the segment runs from ${String(a)} to ${String(b)}.`;
  yield faultAt(reading, "segment", code, `[a, b] with 0 ≤ a < b ≤ ${modules}`, message);
}

function* isolatedFaults(reading: Entry, wiring: Wiring): Generator<FieldFault> {
  const { on } = reading.fields;
  const isolated = textsOf(reading, "isolated");
  if (isolated.length === 0 || typeof on !== "string") return;
  const members = wiring.circuits.get(on);
  const allowed = members
    ? `some but not all of ${[...members].join(", ")}`
    : "isolated only where on names a circuit";
  const refused = (message: string): FieldFault =>
    faultAt(reading, "isolated", "VISIT_ISOLATED_INVALID", allowed, message);
  if (!members) {
    if (wiring.strings.has(on)) yield refused(`${on} is a string; strings are isolated from a circuit.`);
    return;
  }
  const foreign = isolated.filter(({ text }) => !members.has(text));
  for (const { path, text } of foreign)
    yield { ...refused(`${text} is not a string of ${on}.`), path, value: text };
  const left = members.size - new Set(isolated.map(({ text }) => text)).size;
  if (foreign.length === 0 && left === 0)
    yield refused(`Every string of ${on} is isolated, so that nothing is left to read.`);
  yield* repeatedReferences(isolated);
}

function* terminalFaults(reading: Entry, kind: InstrumentKind): Generator<FieldFault> {
  const { from, to } = reading.fields;
  const code = "VISIT_TERMINALS_INVALID";
  if (kind === "insulation-tester") {
    const message = "An insulation tester reads from a terminal to earth.";
    if (to === "+" || to === "-") yield faultAt(reading, "to", code, "earth", message);
  } else if (from === "shorted") {
    const message = "Terminals are shorted together for an insulation tester only.";
    yield faultAt(reading, "from", code, "+, -", message);
  } else if (typeof from === "string" && from === to) {
    yield faultAt(
      reading,
      "to",
      code,
      "another terminal, or earth",
      `The reading is from ${from} to itself.`,
    );
  }
}

function* figureFaults(reading: Entry, kind: InstrumentKind): Generator<FieldFault> {
  const { value, testVoltage, shunt } = reading.fields;
  const code = "VISIT_INSTRUMENT_MISMATCH";
  if (kind === "voltmeter" && testVoltage !== undefined)
    yield faultAt(
      reading,
      "testVoltage",
      code,
      "testVoltage with an insulation tester only",
      "A voltmeter has no test voltage.",
    );
  if (kind === "insulation-tester" && shunt !== undefined)
    yield faultAt(
      reading,
      "shunt",
      code,
      "a shunt with a voltmeter only",
      "An insulation tester is not used with a shunt.",
    );
  if (kind === "insulation-tester" && testVoltage === undefined) {
    const allowed = "the test voltage with its sign, such as 500 V";
    yield faultAt(reading, "testVoltage", "INPUT_FIELD_MISSING", allowed, "testVoltage is missing.");
  }
  if (typeof value !== "string" && typeof value !== "number") return;
  const read = READING_VALUES[kind](value);
  if (!read.ok) yield { ...faultAt(reading, "value", read.problem.code, "", ""), ...read.problem };
}
