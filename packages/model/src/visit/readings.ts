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
export function readingFaults(root: Entry, wiring: Wiring): FieldFault[] {
  const instruments = instrumentsOf(root);
  const places = new Set([...wiring.strings.keys(), ...wiring.circuits.keys()]);
  return entriesOf(root, "readings").flatMap((reading) => {
    const kind = instruments.kindOf(reading.fields);
    return [
      ...withFaults(reading, kind, instruments),
      ...unknownReferences(textsOf(reading, "on"), places, "string or circuit"),
      ...segmentFaults(reading, wiring),
      ...isolatedFaults(reading, wiring),
      ...(kind ? [...terminalFaults(reading, kind), ...figureFaults(reading, kind)] : []),
    ];
  });
}

function faultAt(entry: Entry, field: string, code: FaultCode, allowed: string, message: string): FieldFault {
  return { code, path: [...entry.path, field], part: "value", value: entry.fields[field], allowed, message };
}

function withFaults(
  reading: Entry,
  kind: InstrumentKind | undefined,
  instruments: Instruments,
): FieldFault[] {
  const { names } = instruments;
  if (reading.fields.with !== undefined)
    return names ? unknownReferences(textsOf(reading, "with"), names, "instrument") : [];
  if (kind === undefined || instruments.onlyOne(kind) !== undefined) return [];
  const allowed = `one of ${[...(names ?? [])].join(", ")}`;
  return [
    faultAt(
      reading,
      "with",
      "INPUT_FIELD_MISSING",
      allowed,
      `with is missing, and there are several of kind ${kind}.`,
    ),
  ];
}

function segmentFaults(reading: Entry, wiring: Wiring): FieldFault[] {
  const { segment, on } = reading.fields;
  if (!Array.isArray(segment) || typeof on !== "string") return [];
  const [a, b] = segment as unknown[];
  if (wiring.circuits.has(on)) {
    const message = `A segment is part of one string, and ${on} is a circuit.`;
    return [
      faultAt(reading, "segment", "VISIT_SEGMENT_INVALID", "a segment only where on names a string", message),
    ];
  }
  const modules = wiring.strings.get(on);
  if (!Number.isInteger(a) || !Number.isInteger(b) || modules === undefined) return [];
  if ((a as number) < (b as number) && (b as number) <= modules) return [];
  const message = `${on} has nodes 0 to ${modules}, and the segment runs from ${String(a)} to ${String(b)}.`;
  return [
    faultAt(reading, "segment", "VISIT_SEGMENT_INVALID", `[a, b] with 0 ≤ a < b ≤ ${modules}`, message),
  ];
}

function isolatedFaults(reading: Entry, wiring: Wiring): FieldFault[] {
  const { on } = reading.fields;
  const isolated = textsOf(reading, "isolated");
  if (isolated.length === 0 || typeof on !== "string") return [];
  const members = wiring.circuits.get(on);
  const allowed = members
    ? `some but not all of ${[...members].join(", ")}`
    : "isolated only where on names a circuit";
  const refuse = (message: string): FieldFault =>
    faultAt(reading, "isolated", "VISIT_ISOLATED_INVALID", allowed, message);
  if (!members)
    return wiring.strings.has(on) ? [refuse(`${on} is a string; strings are isolated from a circuit.`)] : [];
  const foreign = isolated.filter(({ text }) => !members.has(text));
  if (foreign.length === 0 && new Set(isolated.map(({ text }) => text)).size === members.size)
    return [refuse(`Every string of ${on} is isolated, so that nothing is left to read.`)];
  return [
    ...foreign.map(({ path, text }) => ({
      ...refuse(`${text} is not a string of ${on}.`),
      path,
      value: text,
    })),
    ...repeatedReferences(isolated),
  ];
}

function terminalFaults(reading: Entry, kind: InstrumentKind): FieldFault[] {
  const { from, to } = reading.fields;
  const refuse = (field: string, allowed: string, message: string): FieldFault[] => [
    faultAt(reading, field, "VISIT_TERMINALS_INVALID", allowed, message),
  ];
  if (kind === "insulation-tester")
    return to === "+" || to === "-"
      ? refuse("to", "earth", "An insulation tester reads from a terminal to earth.")
      : [];
  if (from === "shorted")
    return refuse("from", "+, -", "Terminals are shorted together for an insulation tester only.");
  return typeof from === "string" && from === to
    ? refuse("to", "another terminal, or earth", `The reading is from ${from} to itself.`)
    : [];
}

function figureFaults(reading: Entry, kind: InstrumentKind): FieldFault[] {
  const { value, testVoltage, shunt } = reading.fields;
  const faults: FieldFault[] = [];
  const mismatch = (field: string, allowed: string, message: string): void => {
    faults.push(faultAt(reading, field, "VISIT_INSTRUMENT_MISMATCH", allowed, message));
  };
  if (kind === "voltmeter" && testVoltage !== undefined)
    mismatch("testVoltage", "testVoltage with an insulation tester only", "A voltmeter has no test voltage.");
  if (kind === "insulation-tester" && shunt !== undefined)
    mismatch("shunt", "a shunt with a voltmeter only", "An insulation tester is not used with a shunt.");
  if (kind === "insulation-tester" && testVoltage === undefined)
    faults.push(
      faultAt(
        reading,
        "testVoltage",
        "INPUT_FIELD_MISSING",
        "the test voltage with its sign, such as 500 V",
        "testVoltage is missing.",
      ),
    );
  if (typeof value !== "string" && typeof value !== "number") return faults;
  const read = READING_VALUES[kind](value);
  if (!read.ok) faults.push({ ...read.problem, path: [...reading.path, "value"], part: "value", value });
  return faults;
}
