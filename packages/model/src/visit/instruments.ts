import { parseQuantity, type Instrument } from "@earthbell/engine";
import { entryOf, type Entry } from "../fields/entries.ts";

export type InstrumentKind = Instrument["kind"];

/** A reading as written; only the fields that tell its instrument are looked at. */
export type WrittenReading = Readonly<Record<string, unknown>>;

/** The instruments that a visit file describes. */
export interface Instruments {
  /** The kind of instrument behind a reading; undefined when its description does not say. */
  readonly kindOf: (reading: WrittenReading) => InstrumentKind | undefined;
  /** The names that `with` may take: null when the file describes no instruments, so that any name has the stated defaults. */
  readonly names: ReadonlySet<string> | null;
  /** The instrument of a reading without `with`: the only one of its kind, or undefined when there are several. */
  readonly onlyOne: (kind: InstrumentKind) => string | undefined;
}

/** Names for instruments that nobody named. */
const DEFAULT_NAMES: Readonly<Record<InstrumentKind, string>> = {
  voltmeter: "meter",
  "insulation-tester": "tester",
  "insulation-monitor": "monitor",
  "leakage-clamp": "clamp",
};

export function instrumentsOf(root: Entry): Instruments {
  const described = entryOf(root, "instruments");
  const kinds = new Map<string, InstrumentKind | undefined>();
  if (described)
    for (const name of Object.keys(described.fields)) kinds.set(name, kindIn(entryOf(described, name)));
  return {
    // A name that the file does not describe is a fault of its own, and no ground to guess a kind.
    kindOf: (reading) =>
      typeof reading.with === "string" && described ? kinds.get(reading.with) : kindByFields(reading),
    names: described ? new Set(kinds.keys()) : null,
    onlyOne: (kind) => {
      const names = [...kinds].filter(([, of]) => of === kind).map(([name]) => name);
      return names.length === 0 ? DEFAULT_NAMES[kind] : names.length === 1 ? names[0] : undefined;
    },
  };
}

function kindIn(instrument: Entry | undefined): InstrumentKind | undefined {
  const kind = instrument?.fields.kind;
  return typeof kind === "string" && Object.hasOwn(DEFAULT_NAMES, kind)
    ? (kind as InstrumentKind)
    : undefined;
}

/** Each kind of instrument has a field or a unit of its own. */
function kindByFields({ testVoltage, circuit, value }: WrittenReading): InstrumentKind {
  const shows = (dimension: "resistance" | "current"): boolean =>
    typeof value === "string" && parseQuantity(value, dimension).ok;
  if (circuit !== undefined || shows("current")) return "leakage-clamp";
  return testVoltage !== undefined || shows("resistance") ? "insulation-tester" : "voltmeter";
}
