import type { Amperes, Instrument, Ohms, Reading, Terminal, Visit, Volts } from "@earthbell/engine";
import type * as z from "zod";
import type { ReadOptions } from "../door/open-document.ts";
import { readRecord, type Format } from "../door/read-record.ts";
import type { ReadResult } from "../faults/input-fault.ts";
import { instrumentsOf, type Instruments } from "./instruments.ts";
import { visitConsistency } from "./visit-consistency.ts";
import type { LookAtPhoto, VisitPhoto } from "./photo-paths.ts";
import { READING_VALUES, VISIT_FORMAT, visitFile } from "./visit-file.ts";

type VisitFile = z.output<typeof visitFile>;
type ReadingFields = VisitFile["readings"][number];

/** A visit as its file has it, with the photographs that it names. */
export interface VisitOnFile extends Visit {
  readonly photos?: readonly VisitPhoto[];
}

export interface VisitOptions extends ReadOptions {
  /** Looks at each photograph, so that what is wrong with one is told with the other faults of the file. */
  readonly look?: LookAtPhoto;
}

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
  options: VisitOptions = {},
): ReadResult<VisitOnFile> {
  const format: Format<VisitFile, VisitOnFile> = {
    name: VISIT_FORMAT,
    fields: visitFile,
    consistency: (data) => visitConsistency(data, options.look),
    record: visitOf,
  };
  return readRecord(format, source, file, options);
}

function visitOf(file: VisitFile): VisitOnFile {
  const {
    strings,
    circuits = [],
    instruments = {},
    conditions = {},
    costs = {},
    priors,
    recorded,
    functionalEarth,
    photos,
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
    ...(photos === undefined ? {} : { photos }),
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
