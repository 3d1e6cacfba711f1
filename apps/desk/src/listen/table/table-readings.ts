import {
  COLUMNS_FORMAT,
  type EventColumns,
  EVENTS_FORMAT,
  type HistoryColumns,
  type InputFault,
  readColumns,
  readEventColumns,
  readEventTable,
  readHistoryTable,
  type ReadResult,
  type WatchReading,
} from "@earthbell/model";

/** How a table is read: of insulation readings, or of events. */
export type Mapping =
  | { readonly of: "insulation"; readonly columns: HistoryColumns }
  | { readonly of: "events"; readonly columns: EventColumns };

/** Reads a mapping of either kind, told apart by its format. */
export function readMapping(text: string, file: string): ReadResult<Mapping> {
  const events = new RegExp(`^\\W*format\\W+${EVENTS_FORMAT}\\b`, "mu").test(text);
  const read = events ? readEventColumns(text, file) : readColumns(text, file);
  if (!read.ok) return read;
  const record = { of: events ? "events" : "insulation", columns: read.record } as Mapping;
  return { ok: true, record, warnings: read.warnings };
}

/** Insulation tables name their columns as everybody does, unless a mapping says otherwise. */
export const PLAIN_MAPPING: Mapping = { of: "insulation", columns: { names: {} } };

export const MAPPING_FORMATS = [COLUMNS_FORMAT, EVENTS_FORMAT] as const;

/** Where the rows of a table belong. */
export interface TablePlace {
  readonly site: string;
  readonly device: string;
  /** Of rows that name none; absent: every array of the device. */
  readonly array?: string | undefined;
}

export type TableReadings =
  | { readonly ok: true; readonly readings: readonly WatchReading[]; readonly passedOver: number }
  | { readonly ok: false; readonly faults: readonly InputFault[] };

/** The readings of a table, whole or not at all. The same row of another file has the same key and counts once. */
export function tableReadings(
  text: string | Uint8Array,
  file: string,
  mapping: Mapping,
  place: TablePlace,
  now: number,
): TableReadings {
  return mapping.of === "events"
    ? eventReadings(text, file, mapping.columns, place, now)
    : insulationReadings(text, file, mapping.columns, place, now);
}

/** What rows without an array are read as. */
const NO_ARRAY = "array";

function insulationReadings(
  text: string | Uint8Array,
  file: string,
  columns: HistoryColumns,
  place: TablePlace,
  now: number,
): TableReadings {
  const table = readHistoryTable(text, file, columns);
  if (!table.ok) return table;
  const readings = table.record.arrays.flatMap(({ array: named, readings: own }) =>
    own.map(({ at, ohms }): WatchReading => {
      const sound = Number.isFinite(ohms) && ohms >= 0;
      return {
        ...placed(place, named === NO_ARRAY ? undefined : named, at),
        kind: "insulation",
        value: sound ? ohms : null,
        unit: "ohm",
        quality: sound ? qualityAt(at, now) : "implausible",
      };
    }),
  );
  return { ok: true, readings, passedOver: table.record.empty };
}

function eventReadings(
  text: string | Uint8Array,
  file: string,
  columns: EventColumns,
  place: TablePlace,
  now: number,
): TableReadings {
  const table = readEventTable(text, file, columns);
  if (!table.ok) return table;
  const { events, passedOver } = table.record;
  const readings = events.map(({ array, at, kind, active, event }): WatchReading => {
    const common = placed(place, array, at);
    return {
      ...common,
      kind,
      value: active,
      unit: "bit",
      quality: qualityAt(at, now),
      key: JSON.stringify([common.key, kind, event, active]),
    };
  });
  return { ok: true, readings, passedOver };
}

function placed({ site, device, array: given }: TablePlace, named: string | undefined, at: number) {
  const array = named ?? given;
  return {
    site,
    ...(array === undefined ? {} : { array }),
    device,
    at,
    source: "table",
    key: JSON.stringify(["table", site, array ?? "", device, at]),
  };
}

const DAY_MS = 86_400_000;

/** A figure of last year raises nothing today: what is older than a day is taken as history. */
function qualityAt(at: number, now: number): WatchReading["quality"] {
  return now - at > DAY_MS ? "past" : "good";
}
