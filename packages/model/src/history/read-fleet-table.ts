import { parse } from "csv-parse/sync";
import type { InputFault, ReadResult } from "../faults/input-fault.ts";
import { decodeText } from "../door/decode-text.ts";
import { faultMaker } from "./fault-maker.ts";
import { numberOf } from "./value-cell.ts";

/** What each array is: a row an array, a column a trait. */
export type FleetTable = ReadonlyMap<string, Readonly<Record<string, string>>>;

/**
 * Reads a table of what arrays are. The column `array` is needed; cells left empty are unknown.
 *
 * @param traits  columns that may stand beside it; `consequence` holds a number above zero
 */
export function readFleetTable(
  source: string | Uint8Array,
  file: string,
  traits: readonly string[],
): ReadResult<FleetTable> {
  const fault = faultMaker(file);
  const decoded = decodeText(source);
  const allowed = `a CSV table with the column array and any of ${traits.join(", ")}`;
  const refused = (message: string): ReadResult<FleetTable> => ({
    ok: false,
    faults: [fault("HISTORY_TABLE_INVALID", null, "", null, allowed, message)],
  });
  if (!decoded.ok) return refused(decoded.message);
  let rows: readonly (readonly string[])[];
  try {
    rows = parse(decoded.text, { skip_empty_lines: true, trim: true });
  } catch (error) {
    return refused(error instanceof Error ? error.message : "The table cannot be read.");
  }
  const [headers = [], ...body] = rows;
  const at = headers.indexOf("array");
  const faults: InputFault[] = headers
    .filter((header) => header !== "array" && !traits.includes(header))
    .map((header) => fault("HISTORY_COLUMN_UNKNOWN", 1, header, header, allowed, "No such trait is known."));
  if (at < 0)
    faults.push(
      fault("HISTORY_COLUMN_MISSING", 1, "array", headers.join(","), allowed, "No column is named array."),
    );
  const table = new Map<string, Record<string, string>>();
  body.forEach((row, index) => {
    const entries = headers.flatMap((header, i) => (i === at || row[i] === "" ? [] : [[header, row[i]!]]));
    const record = Object.fromEntries(entries) as Record<string, string>;
    const { consequence } = record;
    if (consequence !== undefined && !((numberOf(consequence, "point") ?? 0) > 0))
      faults.push(
        fault(
          "HISTORY_VALUE_INVALID",
          index + 2,
          "consequence",
          consequence,
          "a number above zero",
          "This is no weight.",
        ),
      );
    table.set(row[at] ?? "", record);
  });
  return faults.length > 0 ? { ok: false, faults } : { ok: true, record: table, warnings: [] };
}
