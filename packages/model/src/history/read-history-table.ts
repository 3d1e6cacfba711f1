import { type HistoryReading, offsetPeriods } from "@earthbell/engine";
import type { InputFault, ReadResult } from "../faults/input-fault.ts";
import { decodeText } from "../door/decode-text.ts";
import { findColumns, type HistoryColumns, type HistoryField } from "./columns.ts";
import { type CsvRow, csvRows } from "./csv-rows.ts";
import { type FaultMaker, faultMaker } from "./fault-maker.ts";
import { instantIn, type InstantCell, readInstantCell } from "./instant-cell.ts";
import { isNothing, numberOf, readValueCell, type ValueCell } from "./value-cell.ts";

/** The readings of a table, array by array in the order in which they first appear. */
export interface HistoryTable {
  readonly arrays: readonly { readonly array: string; readonly readings: readonly HistoryReading[] }[];
  /** Rows without a reading. */
  readonly empty: number;
}

/** Listed faults; a table with the same slip on every row has no need of more. */
const MOST_FAULTS = 50;
const ONE_ARRAY = "array";
/** What over-range counts as when no bound is named: above every array [Ω]. */
const OVER_OHMS = 1e9;

const WEATHER = {
  temperature: ["temperatureC", -60, 80, "°C, −60 to 80"],
  humidity: ["humidityPercent", 0, 100, "%, 0 to 100"],
  rain: ["rainMm", 0, 1000, "mm, 0 to 1000"],
  irradiance: ["irradianceWm2", -20, 2000, "W/m², 0 to 2000"],
} as const;
type WeatherField = keyof typeof WEATHER;
const WEATHER_FIELDS = Object.keys(WEATHER) as WeatherField[];

/**
 * Reads a table of insulation readings (RFC 4180 CSV; comma, semicolon or tab).
 *
 * @returns the readings, or every fault at once: line, column, value, what is allowed. Never throws on what is written.
 * Values that no resistance has, such as zero, are kept: what they mean is the reader of the history's to say.
 */
export function readHistoryTable(
  source: string | Uint8Array,
  file: string,
  columns: HistoryColumns = { names: {} },
): ReadResult<HistoryTable> {
  const fault = faultMaker(file);
  const decoded = decodeText(source);
  if (!decoded.ok) {
    const fields = { file, line: null, column: null, field: "", value: null, allowed: "UTF-8 text" };
    return { ok: false, faults: [{ code: decoded.code, ...fields, message: decoded.message }] };
  }
  const rows = csvRows(decoded.text, columns.delimiter, fault);
  if (!rows.ok) return { ok: false, faults: [rows.fault] };
  const [head, ...body] = rows.rows;
  if (head === undefined || body.length === 0) {
    const allowed = "a line of column names and at least one reading below it";
    return {
      ok: false,
      faults: [fault("HISTORY_TABLE_EMPTY", null, "", null, allowed, "There are no readings.")],
    };
  }
  const headers = head.record.map((cell) => cell.trim());
  const { found, faults } = findColumns(headers, columns, fault);
  if (faults.length > 0) return { ok: false, faults };
  const reader = new RowReader(headers, found.index, columns, found.factor, fault);
  for (const row of body) reader.read(row);
  return reader.result(file);
}

interface ReadRow {
  readonly array: string;
  readonly instant: InstantCell;
  readonly reading: Omit<HistoryReading, "at">;
}

/** Where a cell begins in its line, counted from 1; null where quotes before it hide that. */
function columnOf(record: readonly string[], at: number): number | null {
  const before = record.slice(0, at);
  if (before.some((cell) => /[",;\t\n]/u.test(cell))) return null;
  return before.reduce((column, cell) => column + cell.length + 1, 1);
}

class RowReader {
  readonly #faults: InputFault[] = [];
  readonly #rows: ReadRow[] = [];
  #unlisted = 0;
  #empty = 0;
  #unitLine: number | null = null;

  constructor(
    private readonly headers: readonly string[],
    private readonly index: Readonly<Partial<Record<HistoryField, number>>>,
    private readonly columns: HistoryColumns,
    private readonly factor: number | null,
    private readonly fault: FaultMaker,
  ) {}

  read({ record, line }: CsvRow): void {
    if (record.length !== this.headers.length) {
      const allowed = `${this.headers.length} cells, as in the first line`;
      this.#add(
        this.fault(
          "HISTORY_ROW_LENGTH_WRONG",
          line,
          "",
          record.join(","),
          allowed,
          `The row has ${record.length} cells.`,
        ),
      );
      return;
    }
    const before = this.#faults.length + this.#unlisted;
    const value = this.#value(record, line);
    const instant = this.#instant(record, line, value === null);
    const weather = this.#weather(record, line);
    if (this.#faults.length + this.#unlisted > before) return;
    if (value === null || instant === null) {
      this.#empty++;
      return;
    }
    const at = this.index.array;
    const array = at === undefined ? ONE_ARRAY : record[at]!.trim() || ONE_ARRAY;
    this.#rows.push({ array, instant, reading: { ...value, ...weather } });
  }

  result(file: string): ReadResult<HistoryTable> {
    const locals = this.#rows.filter(({ instant }) => instant.kind === "local").length;
    const { zone } = this.columns;
    if (locals > 0 && locals < this.#rows.length)
      this.#zoneFault("HISTORY_ZONE_MIXED", `${locals} of ${this.#rows.length} instants name no zone.`);
    else if (locals > 0 && zone === undefined)
      this.#zoneFault("HISTORY_ZONE_MISSING", "The instants are local times.");
    else if (zone !== undefined && offsetPeriods(zone, 0, 1) === null)
      this.#add(
        this.fault(
          "HISTORY_COLUMNS_INVALID",
          null,
          "zone",
          zone,
          "a zone of the IANA database, such as Europe/Berlin",
          "This zone is not known.",
        ),
      );
    if (this.#unlisted > 0) {
      const fields = {
        file,
        line: null,
        column: null,
        field: "",
        value: String(this.#unlisted),
        allowed: "",
      };
      this.#faults.push({
        code: "INPUT_FAULTS_TOO_MANY",
        ...fields,
        message: `${this.#unlisted} more faults are not listed.`,
      });
    }
    if (this.#faults.length > 0) return { ok: false, faults: this.#faults };
    const arrays = new Map<string, HistoryReading[]>();
    for (const { array, instant, reading } of this.#rows) {
      const readings = arrays.get(array) ?? [];
      readings.push({ at: instantIn(instant, zone ?? "UTC"), ...reading });
      arrays.set(array, readings);
    }
    if (arrays.size === 0) {
      const allowed = "at least one row with a value";
      return {
        ok: false,
        faults: [this.fault("HISTORY_TABLE_EMPTY", null, "", null, allowed, "No row holds a reading.")],
      };
    }
    const list = [...arrays].map(([array, readings]) => ({ array, readings }));
    return { ok: true, record: { arrays: list, empty: this.#empty }, warnings: [] };
  }

  #zoneFault(code: "HISTORY_ZONE_MIXED" | "HISTORY_ZONE_MISSING", message: string): void {
    const allowed = "instants with Z or an offset, or one zone for all with --zone AREA/PLACE";
    this.#add(this.fault(code, 2, this.headers[this.index.instant!]!, null, allowed, message));
  }

  #add(fault: InputFault): void {
    if (this.#faults.length < MOST_FAULTS) this.#faults.push(fault);
    else this.#unlisted++;
  }

  #instant(record: readonly string[], line: number, isEmpty: boolean): InstantCell | null {
    const at = this.index.instant!;
    const text = record[at]!;
    const cell = readInstantCell(text);
    if (cell === null && !(isEmpty && text.trim() === "")) {
      const allowed = "2026-11-25 06:30, 2026-11-25T06:30Z, or seconds since 1970";
      this.#add(
        this.fault(
          "HISTORY_INSTANT_INVALID",
          line,
          this.headers[at]!,
          text,
          allowed,
          "This is no instant that can be understood.",
          columnOf(record, at),
        ),
      );
    }
    return cell;
  }

  #value(record: readonly string[], line: number): Omit<HistoryReading, "at"> | null {
    const at = this.index.insulation!;
    const text = record[at]!;
    const cell: ValueCell = readValueCell(text, this.columns.decimal ?? "point");
    const field = this.headers[at]!;
    switch (cell.kind) {
      case "nothing":
        return null;
      case "over":
        return { ohms: OVER_OHMS, bound: "at-least" };
      case "ohms":
        return cell.bound === undefined ? { ohms: cell.ohms } : { ohms: cell.ohms, bound: cell.bound };
      case "invalid": {
        const allowed = "a number, a number with Ω, kΩ, MΩ or GΩ, a bound such as >20 MΩ, or nothing";
        this.#add(
          this.fault("HISTORY_VALUE_INVALID", line, field, text, allowed, cell.why, columnOf(record, at)),
        );
        return null;
      }
      case "bare": {
        if (this.factor === null) {
          // Said once: the whole column is meant.
          if (this.#unitLine === null) {
            const allowed = "a unit in the column's name, behind each number, or by --unit kΩ";
            this.#add(
              this.fault(
                "HISTORY_UNIT_MISSING",
                line,
                field,
                text,
                allowed,
                "A bare number, and no unit is stated.",
                columnOf(record, at),
              ),
            );
          }
          this.#unitLine ??= line;
        }
        const ohms = cell.number * (this.factor ?? 1);
        return cell.bound === undefined ? { ohms } : { ohms, bound: cell.bound };
      }
    }
  }

  #weather(record: readonly string[], line: number): Partial<HistoryReading> {
    const weather: Record<string, number> = {};
    for (const field of WEATHER_FIELDS) {
      const at = this.index[field];
      if (at === undefined || isNothing(record[at]!)) continue;
      const [name, least, most, allowed] = WEATHER[field];
      const number = numberOf(record[at]!, this.columns.decimal ?? "point");
      if (number === null)
        this.#add(
          this.fault(
            "HISTORY_VALUE_INVALID",
            line,
            this.headers[at]!,
            record[at]!,
            allowed,
            "This is no number.",
            columnOf(record, at),
          ),
        );
      else if (number < least || number > most)
        this.#add(
          this.fault(
            "HISTORY_VALUE_OUT_OF_RANGE",
            line,
            this.headers[at]!,
            record[at]!,
            allowed,
            `No weather has this ${field}.`,
            columnOf(record, at),
          ),
        );
      else weather[name] = number;
    }
    return weather;
  }
}
