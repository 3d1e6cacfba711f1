import { parseQuantity } from "@earthbell/engine";
import { parse } from "csv-parse/sync";
import { decodeText } from "../door/decode-text.ts";
import type { InputFault, ReadResult } from "../faults/input-fault.ts";
import { isDay } from "../fields/plain-fields.ts";
import { faultMaker } from "../history/fault-maker.ts";
import type { SiteChange } from "./edit-site-text.ts";

/** One row of a table of changes. */
export interface RegisterRow {
  /** Line of the table, the heads being line 1. */
  readonly line: number;
  readonly site: string;
  readonly changes: readonly SiteChange[];
}

/** Columns that change something; a row is about one site, and about one proof of it at most. */
const COLUMNS = ["site", "name", "owner_told", "path", "proof", "on", "by", "acknowledged_after"] as const;
type Column = (typeof COLUMNS)[number];
/** Columns of the register as it is handed out, which are worked out and change nothing. */
const PASSED_OVER = new Set([
  ...["arrays", "open_cases", "active_signs", "silent_paths", "revision", "put_at", "put_by", "duty"],
  ...["best_path", "proved_on", "threshold_ohm", "insulation_ohm", "insulation_at", "judged_on"],
]);
const PROOFS = ["drill", "test-resistor"] as const;

type Cells = Readonly<Partial<Record<Column, string>>>;
type Refuse = (column: Column, value: string, allowed: string, message: string) => void;

/**
 * Reads a table (CSV) of changes of many sites. The column `site` is needed; an empty cell changes nothing. A row with `proof`
 * adds a proof of `path` on the day in `on`.
 *
 * @returns the rows that change something, or every fault of the table by its line and column
 */
export function readRegisterTable(
  source: string | Uint8Array,
  file: string,
): ReadResult<readonly RegisterRow[]> {
  const fault = faultMaker(file);
  const allowed = `a CSV table with the column site and any of ${COLUMNS.slice(1).join(", ")}`;
  const refused = (message: string): ReadResult<readonly RegisterRow[]> => ({
    ok: false,
    faults: [fault("HISTORY_TABLE_INVALID", null, "", null, allowed, message)],
  });
  const decoded = decodeText(source);
  if (!decoded.ok) return refused(decoded.message);
  let table: readonly (readonly string[])[];
  try {
    table = parse(decoded.text, { skip_empty_lines: true, trim: true, bom: true });
  } catch (error) {
    return refused(error instanceof Error ? error.message : "The table cannot be read.");
  }
  const [heads = [], ...body] = table;
  const faults: InputFault[] = heads
    .filter((head) => !isColumn(head) && !PASSED_OVER.has(head))
    .map((head) => fault("HISTORY_COLUMN_UNKNOWN", 1, head, head, allowed, "No such column is known."));
  if (!heads.includes("site"))
    faults.push(
      fault("HISTORY_COLUMN_MISSING", 1, "site", heads.join(","), allowed, "No column is named site."),
    );
  const rows = body.flatMap((cells, index): readonly RegisterRow[] => {
    const line = index + 2;
    const row: Cells = Object.fromEntries(
      heads.flatMap((head, at) => (isColumn(head) && cells[at] !== "" ? [[head, unmarked(cells[at]!)]] : [])),
    );
    const refuse: Refuse = (column, value, may, message) => {
      faults.push(fault("HISTORY_VALUE_INVALID", line, column, value, may, message));
    };
    const changes = changesOf(row, refuse);
    if (row.site === undefined) refuse("site", "", "the id of a site", "No site is named.");
    return changes.length === 0 ? [] : [{ line, site: row.site ?? "", changes }];
  });
  return faults.length > 0 ? { ok: false, faults } : { ok: true, record: rows, warnings: [] };
}

function isColumn(head: string): head is Column {
  return (COLUMNS as readonly string[]).includes(head);
}

/** A cell that a spreadsheet would have calculated has an apostrophe before it. */
function unmarked(cell: string): string {
  return /^'[=+\-@]/u.test(cell) ? cell.slice(1) : cell;
}

const DAY = "a day of the calendar, written YYYY-MM-DD";

function changesOf(row: Cells, refuse: Refuse): readonly SiteChange[] {
  const changes: SiteChange[] = [];
  const { name, owner_told: told } = row;
  if (name !== undefined) {
    if (name.length > 200) refuse("name", name, "text of 1 to 200 characters", "The name is too long.");
    changes.push({ kind: "name", name });
  }
  if (told !== undefined) {
    if (!isDay(told)) refuse("owner_told", told, DAY, "This is not a day of the calendar.");
    changes.push({ kind: "owner-told", on: told });
  }
  const proof = proofOf(row, refuse);
  return proof === null ? changes : [...changes, proof];
}

function proofOf(
  { path, proof, on, by, acknowledged_after: after }: Cells,
  refuse: Refuse,
): SiteChange | null {
  if (proof === undefined && on === undefined && by === undefined && after === undefined) return null;
  const kind = PROOFS.find((one) => one === proof);
  if (kind === undefined) refuse("proof", proof ?? "", PROOFS.join(", "), "The kind of the proof is needed.");
  if (path === undefined) refuse("path", "", "the id of a path of the site", "A proof is of a path.");
  if (on === undefined || !isDay(on)) refuse("on", on ?? "", DAY, "The day of the proof is needed.");
  const minutes = after === undefined ? null : parseQuantity(after, "duration", { bareNumber: "base unit" });
  if (minutes !== null && !minutes.ok)
    refuse("acknowledged_after", after!, minutes.problem.allowed, minutes.problem.message);
  if (kind === undefined || path === undefined || on === undefined) return null;
  return {
    ...{ kind: "proof", path, proof: kind, on },
    ...(by === undefined ? {} : { by }),
    ...(minutes?.ok === true ? { acknowledgedAfterMin: minutes.value } : {}),
  };
}
