import { instantText, isInstant } from "./grounds.ts";
import { WATCH_LIMITS, type WatchLimits } from "./limits.ts";
import { MINUTE } from "./time/span.ts";
import type { ReadingCode } from "./reading-codes.ts";

/** The one unit of each kind. */
const UNIT_OF = {
  "earth-fault-bit": "bit",
  insulation: "ohm",
  "residual-trip": "bit",
  "residual-current": "ampere",
  "device-state": "word",
  heartbeat: "none",
} as const;

export type ReadingKind = keyof typeof UNIT_OF;
export type ReadingUnit = (typeof UNIT_OF)[ReadingKind];

/**
 * good             says what it says
 * stale            was true once; decides nothing now
 * past             was true at its instant and is kept as history; decides nothing now
 * implausible      cannot be true; decides nothing
 * not-implemented  the device does not offer it: neither a fault nor health
 */
export type ReadingQuality = "good" | "stale" | "past" | "implausible" | "not-implemented";
const QUALITIES: readonly string[] = ["good", "stale", "past", "implausible", "not-implemented"];

/** Whatever a listener hears, in the one shape that everything behind it knows. */
export interface WatchReading {
  readonly site: string;
  /** Absent where the device does not tell its arrays apart. */
  readonly array?: string;
  readonly device: string;
  /** Instant of measurement, epoch milliseconds UTC. */
  readonly at: number;
  readonly kind: ReadingKind;
  /** Bits true or false, insulation Ω, residual current A, a device state as a word, a heartbeat true; null unless good. */
  readonly value: boolean | number | string | null;
  readonly unit: ReadingUnit;
  readonly quality: ReadingQuality;
  /** Name of the listener: stays the same for the same way into the desk. */
  readonly source: string;
  /** Idempotency: the same observation delivered twice has the same key. */
  readonly key: string;
}

export interface ReadingRefusal {
  readonly code: ReadingCode;
  readonly field: string;
  readonly value: string;
  readonly allowed: string;
}

export type ReadingResult =
  | { readonly ok: true; readonly reading: WatchReading }
  | { readonly ok: false; readonly refusals: readonly ReadingRefusal[] };

const FIELDS: ReadonlySet<string> = new Set(
  "site array device at kind value unit quality source key".split(" "),
);
const NAMES = ["site", "device", "source", "key"];
const EARLIEST = Date.UTC(2000, 0, 1);
const LATEST = Date.UTC(2200, 0, 1);
const CONTROL = /[\u0000-\u001f\u007f]/u;

/** Checks what a listener passes on; every fault of the reading at once. */
export function checkReading(input: unknown): ReadingResult {
  if (typeof input !== "object" || input === null || Array.isArray(input)) {
    return { ok: false, refusals: [refusal("READING_RECORD_INVALID", "", input, "a map of fields")] };
  }
  const fields = input as Record<string, unknown>;
  const refusals: ReadingRefusal[] = [];
  for (const field of Object.keys(fields)) {
    if (FIELDS.has(field)) continue;
    const allowed = `one of ${[...FIELDS].join(", ")}`;
    refusals.push(refusal("READING_FIELD_UNKNOWN", field, fields[field], allowed));
  }
  for (const field of NAMES) if (!isName(fields[field])) refusals.push(nameRefusal(field, fields[field]));
  if (fields["array"] !== undefined && !isName(fields["array"]))
    refusals.push(nameRefusal("array", fields["array"]));
  refusals.push(...instantRefusals(fields["at"]), ...valueRefusals(fields));
  return refusals.length > 0
    ? { ok: false, refusals }
    : { ok: true, reading: { ...fields } as unknown as WatchReading };
}

function isName(value: unknown): boolean {
  return typeof value === "string" && value.trim() !== "" && value.length <= 200 && !CONTROL.test(value);
}

function nameRefusal(field: string, value: unknown): ReadingRefusal {
  const allowed = "a text of 1 to 200 characters without control characters";
  return refusal("READING_NAME_INVALID", field, value, allowed);
}

function instantRefusals(at: unknown): readonly ReadingRefusal[] {
  if (isInstant(at) && at >= EARLIEST && at < LATEST) return [];
  const allowed = "whole milliseconds since 1970 in UTC, from 2000 to 2199";
  return [refusal("READING_INSTANT_INVALID", "at", at, allowed)];
}

function valueRefusals(fields: Readonly<Record<string, unknown>>): readonly ReadingRefusal[] {
  const { kind, quality, unit, value } = fields;
  const refusals: ReadingRefusal[] = [];
  if (typeof quality !== "string" || !QUALITIES.includes(quality))
    refusals.push(refusal("READING_QUALITY_UNKNOWN", "quality", quality, `one of ${QUALITIES.join(", ")}`));
  if (typeof kind !== "string" || !Object.hasOwn(UNIT_OF, kind)) {
    const kinds = Object.keys(UNIT_OF).join(", ");
    return [...refusals, refusal("READING_KIND_UNKNOWN", "kind", kind, `one of ${kinds}`)];
  }
  const wanted = UNIT_OF[kind as ReadingKind];
  if (unit !== wanted) refusals.push(refusal("READING_UNIT_WRONG", "unit", unit, wanted));
  const absent = value === null && quality !== "good";
  if (!absent && !fitsUnit(wanted, value))
    refusals.push(refusal("READING_VALUE_INVALID", "value", value, ALLOWED[wanted]));
  return refusals;
}

const ALLOWED: Readonly<Record<ReadingUnit, string>> = {
  bit: "true or false",
  ohm: "a finite number of ohms, 0 or more",
  ampere: "a finite number of amperes, 0 or more",
  word: "a word of 1 to 200 characters",
  none: "true",
};

function fitsUnit(unit: ReadingUnit, value: unknown): boolean {
  switch (unit) {
    case "bit":
      return typeof value === "boolean";
    case "ohm":
    case "ampere":
      return typeof value === "number" && Number.isFinite(value) && value >= 0;
    case "word":
      return isName(value);
    case "none":
      return value === true;
  }
}

function refusal(code: ReadingCode, field: string, value: unknown, allowed: string): ReadingRefusal {
  return { code, field, value: shown(value).slice(0, 60), allowed };
}

function shown(value: unknown): string {
  switch (typeof value) {
    case "string":
      return value;
    case "number":
    case "boolean":
      return String(value);
    case "undefined":
      return "nothing";
    default:
      return value === null ? "null" : Array.isArray(value) ? "a list" : `a ${typeof value}`;
  }
}

/**
 * A reading from a clock that is ahead is dated by its arrival: kept as it is, it would stand in front of every later
 * reading for as long as the clock is wrong. A reading that comes late keeps its instant.
 */
export function datedByArrival(
  reading: WatchReading,
  receivedAt: number,
  limits: WatchLimits = WATCH_LIMITS,
): { readonly reading: WatchReading; readonly note: string | null } {
  if (reading.at <= receivedAt + limits.clockAheadMin.value * MINUTE) return { reading, note: null };
  const note = `${reading.device} dated this reading ${instantText(reading.at)}; it is dated by its arrival, ${instantText(receivedAt)}. Set the clock of the device.`;
  return { reading: { ...reading, at: receivedAt }, note };
}

/**
 * The arrays that a reading speaks of: the one it names, else all of its device, else all of its site, since a fault
 * told for an array too many is better than one told for none.
 */
export function arraysConcerned(
  reading: WatchReading,
  arrays: readonly { readonly array: string; readonly device: string }[],
): readonly string[] {
  if (reading.array !== undefined) return [reading.array];
  const ofDevice = arrays.filter(({ device }) => device === reading.device);
  return (ofDevice.length > 0 ? ofDevice : arrays).map(({ array }) => array);
}
