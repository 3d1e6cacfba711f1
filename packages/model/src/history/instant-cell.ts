import { instantOf } from "../watch/time/zone.ts";

/** An instant, or a local time that waits for a zone. */
export type InstantCell =
  | { readonly kind: "instant"; readonly at: number }
  | { readonly kind: "local"; readonly date: string; readonly minuteOfDay: number; readonly seconds: number };

const STAMP =
  /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]+(\d{1,2}):(\d{2})(?::(\d{2})(?:\.\d+)?)?)?\s*(Z|UTC|[+-]\d{2}:?\d{2})?$/u;
const EPOCH = /^\d{9,10}$|^\d{12,13}$/u;

/** Reads `2026-11-25 06:30`, with seconds and an offset or without, or whole seconds or milliseconds since 1970. */
export function readInstantCell(text: string): InstantCell | null {
  const trimmed = text.trim();
  if (EPOCH.test(trimmed))
    return { kind: "instant", at: trimmed.length > 10 ? Number(trimmed) : 1000 * Number(trimmed) };
  const parts = STAMP.exec(trimmed);
  if (parts === null) return null;
  const [, year, month, day, hour = "0", minute = "0", second = "0", offset] = parts;
  const date = `${year!}-${month!.padStart(2, "0")}-${day!.padStart(2, "0")}`;
  const midnight = Date.parse(`${date}T00:00Z`);
  const exists = Number.isFinite(midnight) && new Date(midnight).toISOString().startsWith(date);
  if (!exists || Number(hour) > 24 || Number(minute) > 59 || Number(second) > 60) return null;
  const minuteOfDay = 60 * Number(hour) + Number(minute);
  const seconds = Number(second);
  if (offset === undefined) return { kind: "local", date, minuteOfDay, seconds };
  return { kind: "instant", at: midnight + (minuteOfDay - offsetMinutes(offset)) * 60_000 + seconds * 1000 };
}

function offsetMinutes(offset: string): number {
  if (offset === "Z" || offset === "UTC") return 0;
  const minutes = 60 * Number(offset.slice(1, 3)) + Number(offset.slice(-2));
  return offset.startsWith("-") ? -minutes : minutes;
}

/** The instant of a cell; local times are taken on the clock of the zone, the earlier one in a repeated hour. */
export function instantIn(cell: InstantCell, zone: string): number {
  if (cell.kind === "instant") return cell.at;
  return instantOf(cell.date, cell.minuteOfDay, zone) + 1000 * cell.seconds;
}
