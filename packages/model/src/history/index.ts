export { HISTORY_FIELDS, unitFactor, type HistoryColumns, type HistoryField } from "./columns.ts";
export { HISTORY_CODES } from "./history-codes.ts";
export { historyTableText } from "./history-table-text.ts";
export { columnsText, COLUMNS_FORMAT, readColumns } from "./read-columns.ts";
export { readHistoryTable, type HistoryTable } from "./read-history-table.ts";
export { readFleetTable } from "./read-fleet-table.ts";
export { EVENTS_FORMAT } from "./event-columns-file.ts";
export { type EventColumns, readEventColumns } from "./read-event-columns.ts";
export { readEventTable } from "./read-event-table.ts";
