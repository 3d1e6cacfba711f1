import type { Amperes, Instrument, Ohms, Reading, Terminal, Visit, Volts } from "@earthbell/engine";
import type * as z from "zod";
import type { ReadOptions } from "../door/open-document.ts";
import { readRecord, type Format } from "../door/read-record.ts";
import type { ReadResult } from "../faults/input-fault.ts";
import { instrumentsOf, type Instruments } from "./instruments.ts";
import { visitConsistency } from "./visit-consistency.ts";
import { READING_VALUES, VISIT_FORMAT, visitFile } from "./visit-file.ts";

type VisitFile = z.output<typeof visitFile>;
type ReadingFields = VisitFile["readings"][number];

const visitFormat: Format<VisitFile, Visit> = {
  name: VISIT_FORMAT,
  fields: visitFile,
  consistency: visitConsistency,
  record: visitOf,
};

/**
 * Reads one visit file (`earthbell.visit/1`, YAML or JSON), its quantities in base units and its voltage readings as sizes.
 *
 * Instruments, conditions and costs that are left out stay left out: whoever assumes a default says so.
 *
 * @returns the visit, or every fault of the file at once in order of line. Never throws.
 */
export function readVisit(
  source: string | Uint8Array,
  file: string,
  options: ReadOptions = {},
): ReadResult<Visit> {
  return readRecord(visitFormat, source, file, options);
}

function visitOf(file: VisitFile): Visit {
  const {
    strings,
    circuits = [],
    instruments = {},
    conditions = {},
    costs = {},
    priors,
    recorded,
    functionalEarth,
  } = file;
  const bench = instrumentsOf({ path: [], fields: file });
  return {
    strings,
    circuits,
    instruments: Object.entries(instruments).map(([name, figures]): Instrument => ({ name, ...figures })),
    conditions,
    readings: file.readings.map((reading) => readingOf(reading, bench)),
    costs,
    ...(functionalEarth === undefined ? {} : { functionalEarth }),
    ...(priors === undefined ? {} : { priors }),
    ...(recorded === undefined ? {} : { recorded }),
  };
}

/** `visitConsistency` has passed, so the kind, the name, the terminals and the value are known to be sound. */
function readingOf(fields: ReadingFields, bench: Instruments): Reading {
  const { on, segment, isolated, shunt, from, to, circuit } = fields;
  const kind = bench.kindOf(fields)!;
  const read = READING_VALUES[kind](fields.value);
  if (!read.ok) throw new Error(`A reading passed its checks and cannot be read: ${read.problem.message}`);
  const taken = {
    with: fields.with ?? bench.onlyOne(kind)!,
    on,
    ...(segment === undefined ? {} : { segment }),
    ...(isolated === undefined ? {} : { isolated }),
  };
  if (kind === "insulation-tester" || kind === "insulation-monitor") {
    const testVoltage = fields.testVoltage ?? MONITOR_VOLTAGE;
    return { kind: "insulation", ...taken, from, to: "earth", testVoltage, value: read.value as Ohms };
  }
  const pole = from as Terminal;
  const size = Math.abs(read.value);
  if (kind === "leakage-clamp")
    return {
      kind: "leakage",
      ...taken,
      circuit: circuit!,
      from: pole,
      to: "earth",
      shunt: shunt!,
      value: size as Amperes,
    };
  return {
    kind: "voltage",
    ...taken,
    from: pole,
    to,
    value: size as Volts,
    ...(shunt === undefined ? {} : { shunt }),
  };
}

/** A monitor does not tell its test voltage, and with the terminals seen together it has no part in the reading. */
const MONITOR_VOLTAGE = 1 as Volts;
