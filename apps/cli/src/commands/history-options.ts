import { parseQuantity, type Provenance, type Site } from "@earthbell/engine";
import {
  HISTORY_FIELDS,
  type HistoryColumns,
  type HistoryField,
  type InputFault,
  readColumns,
  readSite,
  unitFactor,
} from "@earthbell/model";
import { nearest } from "../command-line/nearest.ts";
import type { Option } from "../command-line/option.ts";
import type { UsageFault } from "../command-line/usage-fault.ts";
import type { Call } from "../command.ts";
import { readWhole, sourceName } from "../input/source.ts";
import { mostBytes } from "./document-work.ts";

/** Options that say what the columns are and how they are written. */
export const columnOptions: readonly Option[] = [
  {
    name: "column",
    value: "FIELD=NAME",
    repeatable: true,
    help: `which column is what; fields: ${HISTORY_FIELDS.join(", ")}`,
  },
  { name: "columns", value: "FILE", help: "take what is said about the columns from a saved mapping" },
  { name: "save-columns", value: "FILE", help: "save what was said about the columns as a mapping" },
  { name: "unit", value: "UNIT", help: "unit of bare insulation numbers: Ω, kΩ, MΩ or GΩ (ohm, kohm, Mohm)" },
  { name: "zone", value: "ZONE", help: "IANA zone of the site, and of instants that name none" },
  { name: "delimiter", value: "SIGN", help: "separator of cells (found from the first line when left out)" },
  { name: "decimal", value: "SIGN", choices: ["point", "comma"], help: "how decimals are written (point)" },
];

/** Options that say what the array and its instrument are. */
export const arrayOptions: readonly Option[] = [
  { name: "site", value: "SITE", help: "take zone and thresholds from this site file" },
  { name: "threshold", value: "OHMS", help: "insulation below which the alarm operates, such as 30kΩ" },
  {
    name: "ceiling",
    value: "OHMS",
    help: "upper end of the instrument (found from the readings when left out)",
  },
  { name: "array", value: "ID", help: "this array of the table only" },
];

/** What the command line and the files it names say, together. */
export interface HistorySettings {
  readonly columns: HistoryColumns;
  readonly site: Site | null;
  readonly threshold: ({ readonly value: number } & Provenance) | null;
  readonly ceilingOhms: number | null;
}

export type SettingsResult =
  | { readonly ok: true; readonly settings: HistorySettings }
  | { readonly ok: false; readonly usage: readonly UsageFault[]; readonly faults: readonly InputFault[] };

/** Reads every option at once; whatever is wrong is told together. */
export async function historySettings(call: Call): Promise<SettingsResult> {
  const usage: UsageFault[] = [];
  const faults: InputFault[] = [];
  const saved = await fromFile(call, "columns", readColumns, faults);
  const site = await fromFile(call, "site", (bytes, file) => readSite(bytes, file, {}), faults);
  const { arguments: given } = call;
  const names: Partial<Record<HistoryField, string>> = { ...saved?.names };
  for (const text of given.values("column")) {
    const [field = "", name = ""] = /^([^=]*)=(.+)$/su.exec(text)?.slice(1) ?? [];
    if (isField(field)) names[field] = name;
    else usage.push(unknownField(text, field));
  }
  const unit = given.value("unit") ?? saved?.unit;
  if (unit !== undefined && unitFactor(unit) === null)
    usage.push(unknownValue("unit", unit, "Ω, kΩ, MΩ or GΩ", ["--unit kohm", "--unit Mohm"]));
  const threshold = ohmsOption(call, "threshold", usage);
  const ceilingOhms = ohmsOption(call, "ceiling", usage);
  const zone = given.value("zone") ?? saved?.zone ?? site?.place.timezone;
  const delimiter = given.value("delimiter") ?? saved?.delimiter;
  const decimal = (given.value("decimal") as "point" | "comma" | undefined) ?? saved?.decimal;
  if (usage.length > 0 || faults.length > 0) return { ok: false, usage, faults };
  const columns: HistoryColumns = {
    names,
    ...(unit === undefined ? {} : { unit }),
    ...(zone === undefined ? {} : { zone }),
    ...(delimiter === undefined ? {} : { delimiter }),
    ...(decimal === undefined ? {} : { decimal }),
  };
  const stated =
    threshold === null ? null : { value: threshold, source: "--threshold", tag: "user" as const };
  return { ok: true, settings: { columns, site, threshold: stated, ceilingOhms } };
}

function isField(text: string): text is HistoryField {
  return (HISTORY_FIELDS as readonly string[]).includes(text);
}

async function fromFile<Record>(
  call: Call,
  option: string,
  read: (
    bytes: Uint8Array,
    file: string,
  ) =>
    | { readonly ok: true; readonly record: Record }
    | { readonly ok: false; readonly faults: readonly InputFault[] },
  faults: InputFault[],
): Promise<Record | null> {
  const file = call.arguments.value(option);
  if (file === undefined) return null;
  const source = await readWhole(file, { world: call.world, most: mostBytes });
  const result = "code" in source ? { ok: false as const, faults: [source] } : read(source, sourceName(file));
  if (result.ok) return result.record;
  faults.push(...result.faults);
  return null;
}

function ohmsOption(call: Call, option: string, usage: UsageFault[]): number | null {
  const text = call.arguments.value(option);
  if (text === undefined) return null;
  const read = parseQuantity(text, "resistance");
  if (read.ok && read.value > 0) return read.value;
  usage.push(unknownValue(option, text, "a resistance above zero, such as 30 kΩ", [`--${option} 30kohm`]));
  return null;
}

function unknownField(text: string, field: string): UsageFault {
  const close = nearest(field, HISTORY_FIELDS);
  return {
    code: "COMMAND_VALUE_UNKNOWN",
    message: `--column ${JSON.stringify(text)} names no field; allowed: FIELD=NAME with one of ${HISTORY_FIELDS.join(", ")}.`,
    suggestions: (close.length > 0 ? close : ["insulation"]).map((one) => `--column ${one}=NAME`),
    lead: close.length > 0 ? "near" : "example",
  };
}

function unknownValue(option: string, text: string, allowed: string, suggestions: string[]): UsageFault {
  return {
    code: "COMMAND_VALUE_UNKNOWN",
    message: `--${option} ${JSON.stringify(text)} cannot be used; allowed: ${allowed}.`,
    suggestions,
    lead: "example",
  };
}
