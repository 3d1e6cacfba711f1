import { formatQuantity, type Minutes } from "@earthbell/engine";
import type { DeskSettings } from "@earthbell/model";

/** One setting as it is in force. */
export interface SettingRow {
  /** Its place in the file, such as `email.host`. */
  readonly field: string;
  readonly value: string;
}

/** Fields that hold times; minutes once read. */
const TIMES = new Set([
  ...["after", "every", "linksHold", "longest", "lookEvery", "pollEvery", "rest", "sessionKept"],
  ...["settledAfter", "timeout", "unused"],
]);

/**
 * Every setting that the file states, one a row, in its order. Of a secret only where it is read from is told. A list of many
 * entries is counted.
 */
export function settingsRows(settings: DeskSettings): readonly SettingRow[] {
  return rowsOf("", settings);
}

const MOST_ENTRIES = 50;

function rowsOf(field: string, value: unknown): readonly SettingRow[] {
  const name = field.slice(field.lastIndexOf(".") + 1);
  // Limits stand apart, each with its source.
  if (field === "limits") return [];
  if (Array.isArray(value)) return listRows(field, value);
  if (typeof value === "object" && value !== null) return mapRows(field, name, Object.entries(value));
  if (typeof value === "number" && TIMES.has(name)) return [{ field, value: timeText(value) }];
  return [{ field, value: typeof value === "boolean" ? (value ? "yes" : "no") : String(value) }];
}

function listRows(field: string, list: readonly unknown[]): readonly SettingRow[] {
  if (list.every((entry) => typeof entry !== "object"))
    return [{ field, value: list.length === 0 ? "none" : list.join(", ") }];
  if (list.length > MOST_ENTRIES) return [{ field, value: `${list.length} entries` }];
  return list.flatMap((entry, at) => rowsOf(`${field}[${at}]`, entry));
}

function mapRows(
  field: string,
  name: string,
  entries: readonly (readonly [string, unknown])[],
): readonly SettingRow[] {
  const [[source, place] = [], ...more] = entries;
  const secret = (source === "env" || source === "file") && more.length === 0 && name !== "database";
  if (secret)
    return [{ field, value: `read from the ${source === "env" ? "variable" : "file"} ${String(place)}` }];
  return entries.flatMap(([key, value]) => rowsOf(field === "" ? key : `${field}.${key}`, value));
}

function timeText(minutes: number): string {
  return formatQuantity(minutes as Minutes, "duration", { significant: 6 });
}
