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
  const named = [...wiring.strings.keys(), ...wiring.circuits.keys()];
  const places = wiring.strings.size === 0 ? undefined : new Set(named);
  for (const reading of entriesOf(root, "readings")) {
    const kind = instruments.kindOf(reading.fields);
    yield* withFaults(reading, kind, instruments);
    yield* unknownReferences(textsOf(reading, "on"), places, "string or circuit");
    yield* segmentFaults(reading, wiring);
    yield* circuitFaults(reading, wiring);
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

/** With a clamp around one string the circuit has a field of its own; otherwise `on` names it. */
function* circuitFaults(reading: Entry, wiring: Wiring): Generator<FieldFault> {
  const { circuit, on } = reading.fields;
  yield* unknownReferences(textsOf(reading, "circuit"), new Set(wiring.circuits.keys()), "circuit");
  const members = typeof circuit === "string" ? wiring.circuits.get(circuit) : undefined;
  if (!members || typeof on !== "string" || members.has(on) || !wiring.strings.has(on)) return;
  const message = `${on} is not a string of ${circuit as string}, so that a clamp around it sees none of its current.`;
  yield faultAt(reading, "on", "VISIT_CLAMP_OUTSIDE_CIRCUIT", `one of ${[...members].join(", ")}`, message);
}

function* isolatedFaults(reading: Entry, wiring: Wiring): Generator<FieldFault> {
  const from = reading.fields.circuit ?? reading.fields.on;
  const isolated = textsOf(reading, "isolated");
  if (isolated.length === 0 || typeof from !== "string") return;
  const members = wiring.circuits.get(from);
  const allowed = members
    ? `some but not all of ${[...members].join(", ")}`
    : "isolated only where a circuit is read";
  const refused = (message: string): FieldFault =>
    faultAt(reading, "isolated", "VISIT_ISOLATED_INVALID", allowed, message);
  if (!members) {
    if (wiring.strings.has(from)) yield refused(`${from} is a string; strings are isolated from a circuit.`);
    return;
  }
  const foreign = isolated.filter(({ text }) => !members.has(text));
  for (const { path, text } of foreign)
    yield { ...refused(`${text} is not a string of ${from}.`), path, value: text };
  const left = members.size - new Set(isolated.map(({ text }) => text)).size;
  if (foreign.length === 0 && left === 0)
    yield refused(`Every string of ${from} is isolated, so that nothing is left to read.`);
  yield* repeatedReferences(isolated);
}

/** What a reading with each kind of instrument is taken between, and which of the other fields it needs or cannot have. */
const READINGS = {
  voltmeter: {
    name: "A voltmeter",
    from: ["+", "-"],
    to: ["+", "-", "earth"],
    needs: [],
    lacks: ["testVoltage", "circuit"],
  },
  "insulation-tester": {
    name: "An insulation tester",
    from: ["+", "-", "shorted"],
    to: ["earth"],
    needs: ["testVoltage"],
    lacks: ["shunt", "circuit"],
  },
  "insulation-monitor": {
    name: "An insulation monitor",
    from: ["shorted"],
    to: ["earth"],
    needs: [],
    lacks: ["shunt", "circuit"],
  },
  "leakage-clamp": {
    name: "A leakage clamp",
    from: ["+", "-"],
    to: ["earth"],
    needs: ["circuit", "shunt"],
    lacks: ["testVoltage", "segment"],
  },
} as const;

function* terminalFaults(reading: Entry, kind: InstrumentKind): Generator<FieldFault> {
  const { from, to } = reading.fields;
  const { name, ...takes } = READINGS[kind];
  const code = "VISIT_TERMINALS_INVALID";
  for (const end of ["from", "to"] as const) {
    const written = reading.fields[end];
    const known = written === "+" || written === "-" || written === "earth" || written === "shorted";
    const allowed: readonly string[] = takes[end];
    if (!known || allowed.includes(written)) continue;
    yield faultAt(reading, end, code, allowed.join(", "), `${name} does not read ${end} ${written}.`);
  }
  if (typeof from === "string" && from === to)
    yield faultAt(
      reading,
      "to",
      code,
      "another terminal, or earth",
      `The reading is from ${from} to itself.`,
    );
}

function* figureFaults(reading: Entry, kind: InstrumentKind): Generator<FieldFault> {
  const { fields } = reading;
  const { name, needs, lacks } = READINGS[kind];
  for (const field of needs)
    if (fields[field] === undefined)
      yield faultAt(
        reading,
        field,
        "INPUT_FIELD_MISSING",
        `${field}, as ${kind} readings need it`,
        `${field} is missing.`,
      );
  for (const field of lacks)
    if (fields[field] !== undefined)
      yield faultAt(
        reading,
        field,
        "VISIT_INSTRUMENT_MISMATCH",
        `no ${field} here`,
        `${name} is read without ${field}.`,
      );
  if (typeof fields.value !== "string" && typeof fields.value !== "number") return;
  const read = READING_VALUES[kind](fields.value);
  if (!read.ok) yield { ...faultAt(reading, "value", read.problem.code, "", ""), ...read.problem };
}
