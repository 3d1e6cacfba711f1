import { decodeText } from "../door/decode-text.ts";
import type { InputFault, ReadResult } from "../faults/input-fault.ts";
import { nearestName } from "../fields/nearest-name.ts";
import { type CsvRow, csvRows } from "./csv-rows.ts";
import { type FaultMaker, faultMaker } from "./fault-maker.ts";
import { instantIn, type InstantCell, readInstantCell } from "./instant-cell.ts";
import type { EventColumns } from "./read-event-columns.ts";

/** A fault that began or ended, as an event log has it. */
export interface LoggedEvent {
  /** Absent where the log does not tell arrays apart. */
  readonly array?: string;
  /** Epoch milliseconds UTC. */
  readonly at: number;
  readonly kind: "earth-fault-bit" | "residual-trip";
  readonly active: boolean;
  /** What the log calls it. */
  readonly event: string;
}

export interface EventTable {
  readonly events: readonly LoggedEvent[];
  /** Rows whose event no rule names. */
  readonly passedOver: number;
}

/** Listed faults; a log with the same slip on every row has no need of more. */
const MOST_FAULTS = 50;
const NAMED = ["instant", "event", "text", "state", "array"] as const;
type Index = Readonly<Partial<Record<(typeof NAMED)[number], number>>>;

/**
 * Reads an event log (CSV) by a mapping.
 *
 * @returns the faults that it tells of in the order of its rows, or every fault of the file at once: line, column, value,
 * what is allowed. Never throws on what is written.
 */
export function readEventTable(
  source: string | Uint8Array,
  file: string,
  columns: EventColumns,
): ReadResult<EventTable> {
  const fault = faultMaker(file);
  const decoded = decodeText(source);
  if (!decoded.ok) {
    const fields = { file, line: null, column: null, field: "", value: null, allowed: "UTF-8 text" };
    return { ok: false, faults: [{ code: decoded.code, ...fields, message: decoded.message }] };
  }
  const rows = csvRows(decoded.text, columns.delimiter, fault);
  if (!rows.ok) return { ok: false, faults: [rows.fault] };
  const [head, ...body] = rows.rows;
  if (head === undefined) {
    const allowed = "a line of column names";
    return {
      ok: false,
      faults: [fault("HISTORY_TABLE_EMPTY", null, "", null, allowed, "The file is empty.")],
    };
  }
  const headers = head.record.map((cell) => cell.trim());
  const { index, faults } = findNamed(headers, columns, fault);
  if (faults.length > 0) return { ok: false, faults };
  const reader = new EventReader(headers, index, columns, fault);
  for (const row of body) reader.read(row);
  return reader.result(file);
}

function findNamed(
  headers: readonly string[],
  columns: EventColumns,
  fault: FaultMaker,
): { readonly index: Index; readonly faults: readonly InputFault[] } {
  const index: Partial<Record<(typeof NAMED)[number], number>> = {};
  const faults: InputFault[] = [];
  for (const field of NAMED) {
    const name = columns[field];
    if (name === undefined) continue;
    const at = headers.indexOf(name);
    if (at >= 0) index[field] = at;
    else {
      const near = nearestName(name, headers);
      const hint = near === undefined ? "." : `; did you mean ${JSON.stringify(near)}?`;
      const message = `The log has no column ${JSON.stringify(name)}${hint}`;
      const allowed = `one of ${headers.join(", ")}`;
      faults.push(fault("HISTORY_COLUMN_UNKNOWN", 1, field, name, allowed, message));
    }
  }
  return { index, faults };
}

type Logged = Omit<LoggedEvent, "at"> & { readonly instant: InstantCell };

class EventReader {
  readonly #faults: InputFault[] = [];
  readonly #events: Logged[] = [];
  #unlisted = 0;
  #passedOver = 0;
  #zoneMissing = false;

  constructor(
    private readonly headers: readonly string[],
    private readonly index: Index,
    private readonly columns: EventColumns,
    private readonly fault: FaultMaker,
  ) {}

  read({ record, line }: CsvRow): void {
    if (record.length !== this.headers.length) {
      const allowed = `${this.headers.length} cells, as in the first line`;
      const message = `The row has ${record.length} cells.`;
      this.#add(this.fault("HISTORY_ROW_LENGTH_WRONG", line, "", record.join(","), allowed, message));
      return;
    }
    const event = this.#cell(record, "event") ?? "";
    const text = this.#cell(record, "text")?.toLowerCase();
    const rule = this.columns.faults.find((one) =>
      one.holds === undefined ? one.event === event : text?.includes(one.holds.toLowerCase()),
    );
    const instant = this.#instant(record, line);
    if (rule === undefined) {
      if (this.columns.others === "refuse")
        this.#wrong("HISTORY_EVENT_UNKNOWN", line, "event", event, "an event that a rule names");
      this.#passedOver++;
      return;
    }
    const active = this.#active(record, line, rule.change);
    if (instant === null || active === null) return;
    const array = this.#cell(record, "array");
    this.#events.push({
      ...(array === undefined || array === "" ? {} : { array }),
      instant,
      kind: rule.is,
      active,
      event,
    });
  }

  result(file: string): ReadResult<EventTable> {
    if (this.#unlisted > 0) {
      const fields = {
        file,
        line: null,
        column: null,
        field: "",
        value: String(this.#unlisted),
        allowed: "",
      };
      const message = `${this.#unlisted} more faults are not listed.`;
      this.#faults.push({ code: "INPUT_FAULTS_TOO_MANY", ...fields, message });
    }
    if (this.#faults.length > 0) return { ok: false, faults: this.#faults };
    const zone = this.columns.zone ?? "UTC";
    const events = this.#events.map(
      ({ instant, ...event }): LoggedEvent => ({ ...event, at: instantIn(instant, zone) }),
    );
    return { ok: true, record: { events, passedOver: this.#passedOver }, warnings: [] };
  }

  #cell(record: readonly string[], field: (typeof NAMED)[number]): string | undefined {
    const at = this.index[field];
    return at === undefined ? undefined : record[at]!.trim();
  }

  #instant(record: readonly string[], line: number): InstantCell | null {
    const written = this.#cell(record, "instant")!;
    const cell = readInstantCell(written);
    if (cell === null) {
      const allowed = "2026-11-25 06:30, 2026-11-25T06:30Z, or seconds since 1970";
      this.#wrong("HISTORY_INSTANT_INVALID", line, "instant", written, allowed);
    } else if (cell.kind === "local" && this.columns.zone === undefined && !this.#zoneMissing) {
      this.#zoneMissing = true;
      const allowed = "instants with Z or an offset, or a zone in the mapping";
      this.#wrong("HISTORY_ZONE_MISSING", line, "instant", written, allowed);
    }
    return cell;
  }

  /** Whether the fault came or went; what the rule says goes before what the state column says. */
  #active(record: readonly string[], line: number, change: "begins" | "ends" | undefined): boolean | null {
    if (change !== undefined) return change === "begins";
    const { begins = [], ends = [] } = this.columns;
    const state = this.#cell(record, "state")!;
    if (begins.includes(state)) return true;
    if (ends.includes(state)) return false;
    this.#wrong("HISTORY_EVENT_STATE_UNKNOWN", line, "state", state, [...begins, ...ends].join(", "));
    return null;
  }

  #wrong(
    code:
      | "HISTORY_EVENT_UNKNOWN"
      | "HISTORY_INSTANT_INVALID"
      | "HISTORY_ZONE_MISSING"
      | "HISTORY_EVENT_STATE_UNKNOWN",
    line: number,
    field: (typeof NAMED)[number],
    value: string,
    allowed: string,
  ): void {
    const header = this.headers[this.index[field]!]!;
    this.#add(this.fault(code, line, header, value, allowed, WORDS[code]));
  }

  #add(fault: InputFault): void {
    if (this.#faults.length < MOST_FAULTS) this.#faults.push(fault);
    else this.#unlisted++;
  }
}

const WORDS = {
  HISTORY_EVENT_UNKNOWN: "No rule of the mapping names this event.",
  HISTORY_INSTANT_INVALID: "This is no instant that can be understood.",
  HISTORY_ZONE_MISSING: "The instants are local times.",
  HISTORY_EVENT_STATE_UNKNOWN: "The mapping does not say whether this is a beginning or an end.",
} as const;
