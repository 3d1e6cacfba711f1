import { openDocument } from "../door/open-document.ts";
import type { ReadResult } from "../faults/input-fault.ts";
import { nearestName } from "../fields/nearest-name.ts";
import { HISTORY_FIELDS, type HistoryColumns, type HistoryField, unitFactor } from "./columns.ts";
import { faultMaker } from "./fault-maker.ts";

export const COLUMNS_FORMAT = "earthbell.columns/1";
const SETTINGS = ["unit", "zone", "delimiter", "decimal"] as const;
const KEYS = ["format", ...HISTORY_FIELDS, ...SETTINGS];

/** Reads a saved mapping: which column is what, and how numbers and times are written. */
export function readColumns(source: string | Uint8Array, file: string): ReadResult<HistoryColumns> {
  const opened = openDocument(source, file);
  if (!opened.ok) return opened;
  const fault = faultMaker(file);
  const { data } = opened.document;
  const wrong = (key: string, allowed: string, message: string) =>
    fault("HISTORY_COLUMNS_INVALID", null, key, text(data[key]), allowed, message);
  const faults = Object.keys(data)
    .filter((key) => !KEYS.includes(key))
    .map((key) => {
      const near = nearestName(key, KEYS);
      const hint = near === undefined ? "" : ` Did you mean ${near}?`;
      return wrong(key, `one of ${KEYS.join(", ")}`, `A mapping has no entry ${JSON.stringify(key)}.${hint}`);
    });
  if (data["format"] !== COLUMNS_FORMAT)
    faults.push(wrong("format", COLUMNS_FORMAT, "This is no mapping of columns, or of another version."));
  for (const key of [...HISTORY_FIELDS, ...SETTINGS])
    if (data[key] !== undefined && (typeof data[key] !== "string" || data[key] === ""))
      faults.push(wrong(key, "a text", `${key} must be a text.`));
  const { unit, decimal } = data;
  if (typeof unit === "string" && unitFactor(unit) === null)
    faults.push(wrong("unit", "Ω, kΩ, MΩ or GΩ", "This is no unit of insulation."));
  if (decimal !== undefined && decimal !== "point" && decimal !== "comma")
    faults.push(wrong("decimal", "point or comma", "This is no way to write decimals."));
  if (faults.length > 0) return { ok: false, faults };
  const names: Partial<Record<HistoryField, string>> = {};
  for (const field of HISTORY_FIELDS) {
    const name = data[field];
    if (typeof name === "string") names[field] = name;
  }
  const settings: Omit<HistoryColumns, "names"> = Object.fromEntries(
    SETTINGS.flatMap((key) => (data[key] === undefined ? [] : [[key, data[key]]])),
  );
  return { ok: true, record: { names, ...settings }, warnings: [] };
}

/** The same as a file, to be read again. */
export function columnsText({ names, ...settings }: HistoryColumns): string {
  const lines = [...Object.entries(names), ...Object.entries(settings)].map(
    ([key, value]) => `${key}: ${JSON.stringify(value)}`,
  );
  return [`format: ${COLUMNS_FORMAT}`, ...lines, ""].join("\n");
}

function text(value: unknown): string | null {
  if (value === undefined) return null;
  return typeof value === "string" ? value : JSON.stringify(value);
}
