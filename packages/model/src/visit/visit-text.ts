import {
  type Dimension,
  formatQuantity,
  type Instrument,
  parseQuantity,
  type QuantityOf,
  type Reading,
  type Visit,
} from "@earthbell/engine";
import { scalarText } from "../yaml/scalar-text.ts";
import type { VisitOnFile } from "./read-visit.ts";
import { VISIT_FORMAT } from "./visit-file.ts";

/** The fields of a visit that are quantities, by the part of the file and their place in it. */
const QUANTITIES: Readonly<Record<string, Dimension>> = {
  "strings.moduleVoc": "voltage",
  "strings.moduleVocs": "voltage",
  "strings.homeRuns.positive": "length",
  "strings.homeRuns.negative": "length",
  "functionalEarth.through": "resistance",
  "instruments.inputResistance": "resistance",
  "instruments.inputTolerance": "ratio",
  "instruments.accuracy.reading": "ratio",
  "conditions.mismatch": "ratio",
  "conditions.drift": "ratio",
  "readings.shunt": "resistance",
  "readings.testVoltage": "voltage",
  "costs.openConnector": "duration",
  "costs.isolateString": "duration",
  "costs.reading": "duration",
  "costs.waitDry": "duration",
};
/** What the last digit of an instrument is in, and what a reading shows. */
const FLOORS: Readonly<Record<Instrument["kind"], Dimension>> = {
  voltmeter: "voltage",
  "insulation-tester": "resistance",
  "insulation-monitor": "resistance",
  "leakage-clamp": "current",
};
const SHOWN: Readonly<Record<Reading["kind"], Dimension>> = {
  voltage: "voltage",
  insulation: "resistance",
  leakage: "current",
};

/**
 * A visit as the file a person would write: one string, instrument and reading a line, every field of it. Reading the text
 * gives the same visit, number by number; an instrument that readings name and the visit does not describe is listed
 * with its kind alone, where others are described.
 *
 * @param notes  lines put at the top as comments
 */
export function visitText(visit: VisitOnFile, notes: readonly string[] = []): string {
  const {
    strings,
    circuits,
    functionalEarth,
    conditions,
    readings,
    costs,
    priors,
    recorded,
    photos = [],
  } = visit;
  const instruments = described(visit);
  const single = { functionalEarth, conditions: filled(conditions) };
  const after = { costs: filled(costs), priors, recorded };
  const lines = [
    ...notes.map((note) => `# ${note.replace(/\s+/gu, " ")}`),
    `format: ${VISIT_FORMAT}`,
    ...listed("strings", strings),
    ...(circuits.length === 0 ? [] : listed("circuits", circuits)),
    ...(instruments.length === 0 ? [] : ["instruments:", ...instruments.map(instrumentLine)]),
    ...sections(single),
    ...(readings.length === 0 ? ["readings: []"] : ["readings:", ...readings.map(readingLine)]),
    ...sections(after),
    ...(photos.length === 0 ? [] : listed("photos", photos)),
  ];
  return `${lines.join("\n")}\n`;
}

function described({ instruments, readings }: Visit): readonly Instrument[] {
  if (instruments.length === 0) return [];
  const kinds = { voltage: "voltmeter", insulation: "insulation-tester", leakage: "leakage-clamp" } as const;
  const known = new Map(instruments.map((one) => [one.name, one]));
  for (const { with: name, kind } of readings)
    if (!known.has(name)) known.set(name, { name, kind: kinds[kind] });
  return [...known.values()];
}

function filled<Fields extends object>(fields: Fields): Fields | undefined {
  return fieldsOf(fields).length === 0 ? undefined : fields;
}

function listed(section: string, entries: readonly object[]): string[] {
  return [`${section}:`, ...entries.map((entry) => `  - ${flow(entry, section)}`)];
}

function sections(parts: Readonly<Record<string, unknown>>): string[] {
  return fieldsOf(parts).map(([section, value]) => `${section}: ${flow(value, section)}`);
}

function instrumentLine({ name, ...figures }: Instrument): string {
  const floor = figures.accuracy?.floor;
  const accuracy = {
    ...figures.accuracy,
    ...(floor === undefined ? {} : { floor: exactly(floor, FLOORS[figures.kind]) }),
  };
  const written = figures.accuracy === undefined ? figures : { ...figures, accuracy };
  return `  ${scalarText(name)}: ${flow(written, "instruments")}`;
}

function readingLine({ kind, value, ...taken }: Reading): string {
  return `  - ${flow({ ...taken, value: exactly(value, SHOWN[kind]) }, "readings")}`;
}

/** Text that is put in as it stands. */
class Written {
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }
}

/** A quantity with its unit in as few digits as tell it whole; as a bare number in the base unit where none do. */
function exactly<D extends Dimension>(value: QuantityOf[D], dimension: D): Written {
  for (const significant of [6, 9, 12, 15]) {
    const text = formatQuantity(value, dimension, { significant });
    const read = parseQuantity(text, dimension);
    if (read.ok && read.value === value) return new Written(text);
  }
  return new Written(String(value));
}

function fieldsOf(map: object): readonly (readonly [string, unknown])[] {
  return Object.entries(map).filter(([, value]) => value !== undefined);
}

/** A value in YAML's flow style, as its place in a visit says. */
function flow(value: unknown, place: string): string {
  if (value instanceof Written) return value.text;
  const dimension = QUANTITIES[place];
  if (Array.isArray(value)) return `[${value.map((one: unknown) => flow(one, place)).join(", ")}]`;
  if (typeof value === "number" && dimension !== undefined)
    return exactly(value as QuantityOf[Dimension], dimension).text;
  // A pole is written as it is on the array.
  if (typeof value === "string") return value === "+" || value === "-" ? value : scalarText(value);
  if (typeof value !== "object" || value === null) return String(value);
  const fields = fieldsOf(value).map(([field, inner]) => `${field}: ${flow(inner, `${place}.${field}`)}`);
  return `{${fields.join(", ")}}`;
}
