import type { InputFault } from "../faults/input-fault.ts";
import { nearestName } from "../fields/nearest-name.ts";
import type { FaultMaker } from "./fault-maker.ts";

/** What a column can be. */
export const HISTORY_FIELDS = [
  "instant",
  "insulation",
  "array",
  "temperature",
  "humidity",
  "rain",
  "irradiance",
] as const;

export type HistoryField = (typeof HISTORY_FIELDS)[number];

/** What is known of a table before it is opened: what its columns are called, and how numbers and times are written. */
export interface HistoryColumns {
  readonly names: Readonly<Partial<Record<HistoryField, string>>>;
  /** Of bare insulation numbers: Ω, kΩ, MΩ, GΩ. */
  readonly unit?: string;
  /** IANA zone of instants that name none. */
  readonly zone?: string;
  readonly delimiter?: string;
  readonly decimal?: "point" | "comma";
}

/** Factors to ohms, by what is written in small letters without blanks; mΩ and MΩ differ in capitals and are told apart first. */
const UNIT_FACTORS: Readonly<Record<string, number>> = {
  ω: 1,
  ohm: 1,
  ohms: 1,
  kω: 1e3,
  kohm: 1e3,
  kohms: 1e3,
  megohm: 1e6,
  gω: 1e9,
  gohm: 1e9,
};
const MEGA = /^M(?:Ω|ohms?)$|^megohms?$/iu;

/** Ω for one of a unit; null for what is none. `mΩ` is no unit of insulation, so a small m is refused rather than guessed. */
export function unitFactor(unit: string): number | null {
  const text = unit.trim().replace(/\u2126/gu, "Ω");
  if (MEGA.test(text)) return text.startsWith("m") && !/^megohm/u.test(text) ? null : 1e6;
  return UNIT_FACTORS[text.toLowerCase()] ?? null;
}

/** Names that a column goes by, without blanks, marks and unit. */
const ALIASES: Readonly<Record<HistoryField, readonly string[]>> = {
  instant: ["instant", "time", "timestamp", "datetime", "date", "at"],
  insulation: ["insulation", "insulationresistance", "riso", "resistance"],
  array: ["array", "inverter", "device", "generator"],
  temperature: ["temperature", "airtemperature", "ambienttemperature", "temp"],
  humidity: ["humidity", "relativehumidity", "rh"],
  rain: ["rain", "rainfall", "precipitation"],
  irradiance: ["irradiance", "irradiation", "poa"],
};

/** A column's name apart from the unit at its end: `R_iso (kΩ)`, `riso_kohm`. */
function nameAndUnit(header: string): { readonly name: string; readonly unit: string | null } {
  const bracket = /^(.*?)\s*[([]\s*([^)\]]+)\s*[)\]]\s*$/u.exec(header);
  if (bracket !== null) return { name: bare(bracket[1]!), unit: bracket[2]! };
  const tail = /^(.*?)[_\s]([kMG]?(?:Ω|ohms?)|megohms?)$/iu.exec(header.trim());
  if (tail !== null) return { name: bare(tail[1]!), unit: tail[2]! };
  const weather = /^(.*?)[_\s](c|°c|celsius|percent|%|mm|wm2|w\/m2|w\/m²)$/iu.exec(header.trim());
  return { name: bare(weather?.[1] ?? header), unit: null };
}

function bare(name: string): string {
  return name.toLowerCase().replace(/[^a-z]/gu, "");
}

export interface FoundColumns {
  readonly index: Readonly<Partial<Record<HistoryField, number>>>;
  /** Ω for one of the bare numbers; null where no unit is stated. */
  readonly factor: number | null;
}

/** Which column is what, by the names given and else by those known; every fault at once. */
export function findColumns(
  headers: readonly string[],
  { names, unit }: HistoryColumns,
  fault: FaultMaker,
): { readonly found: FoundColumns; readonly faults: readonly InputFault[] } {
  const faults = repeatedColumns(headers, fault);
  const index: Partial<Record<HistoryField, number>> = {};
  for (const field of HISTORY_FIELDS) {
    const asked = names[field];
    const at =
      asked === undefined
        ? headers.findIndex((header) => ALIASES[field].includes(nameAndUnit(header).name))
        : headers.indexOf(asked);
    if (at >= 0) index[field] = at;
    else if (asked !== undefined) faults.push(unknownColumn(asked, field, headers, fault));
    else if (field === "instant" || field === "insulation") faults.push(missingColumn(field, headers, fault));
  }
  const header = index.insulation === undefined ? "" : headers[index.insulation]!;
  const stated = unit ?? nameAndUnit(header).unit;
  const factor = stated === null ? null : unitFactor(stated);
  if (stated !== null && factor === null) {
    const allowed = "Ω, kΩ, MΩ or GΩ (ohm, kohm, Mohm)";
    faults.push(
      fault("HISTORY_COLUMNS_INVALID", 1, "unit", stated, allowed, "This is no unit of insulation."),
    );
  }
  return { found: { index, factor }, faults };
}

function repeatedColumns(headers: readonly string[], fault: FaultMaker): InputFault[] {
  const repeated = headers.filter((header, i) => header !== "" && headers.indexOf(header) !== i);
  return [...new Set(repeated)].map((header) =>
    fault("HISTORY_COLUMN_REPEATED", 1, header, header, "each name once", "Two columns are called the same."),
  );
}

function missingColumn(field: HistoryField, headers: readonly string[], fault: FaultMaker): InputFault {
  const allowed = `a column named ${ALIASES[field].slice(0, 3).join(", ")}, or --column ${field}=NAME`;
  const message = `No column is known for the ${field}.`;
  return fault("HISTORY_COLUMN_MISSING", 1, field, headers.join(", "), allowed, message);
}

function unknownColumn(
  asked: string,
  field: HistoryField,
  headers: readonly string[],
  fault: FaultMaker,
): InputFault {
  const near = nearestName(asked, headers);
  const message = `The table has no column ${JSON.stringify(asked)}${near === undefined ? "." : `; did you mean ${JSON.stringify(near)}?`}`;
  return fault("HISTORY_COLUMN_UNKNOWN", 1, field, asked, `one of ${headers.join(", ")}`, message);
}
