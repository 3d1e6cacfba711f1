import * as z from "zod";
import { refuse } from "./refusal.ts";

/** Fields that are no quantities. The error text of each is what it allows; `field-faults-of.ts` finds the code. */

const LONGEST_TEXT = 500;

/** An id or a name that others refer to: anything that prints on one line. */
export function id() {
  const allowed = "text of 1 to 60 characters on one line, with no space at its ends";
  return z
    .string({ error: `${allowed} (a number needs quotes)` })
    .meta({ description: allowed })
    .regex(/^(?=\S)[^\p{C}\p{Zl}\p{Zp}]{1,60}(?<=\S)$/u, { error: allowed });
}

export function text(longest = LONGEST_TEXT) {
  const allowed = `text of 1 to ${longest} characters`;
  return z
    .string({ error: `${allowed} (a number needs quotes)` })
    .regex(/^(?=[\s\S]*\S)(?:[^\p{Cc}]|[\n\t])*$/u, { error: allowed })
    .max(longest, { error: allowed });
}

export function patterned(pattern: RegExp, allowed: string) {
  return z.string({ error: allowed }).meta({ description: allowed }).regex(pattern, { error: allowed });
}

export function timeOfDay() {
  return patterned(/^(?:[01]\d|2[0-3]):[0-5]\d$/u, "a time of day, written HH:MM in quotes");
}

export function yesNo() {
  return z.boolean({ error: "true or false" });
}

/** A whole number. */
export function count(least: number, most: number) {
  const allowed = `a whole number from ${least} to ${most}`;
  return z.int({ error: allowed }).min(least, { error: allowed }).max(most, { error: allowed });
}

export function number(least: number, most: number) {
  const allowed = `a number from ${least} to ${most}`;
  return z.number({ error: allowed }).min(least, { error: allowed }).max(most, { error: allowed });
}

export function choice<const Words extends readonly [string, ...string[]]>(...words: Words) {
  return z.enum(words, { error: words.join(", ") });
}

export function wholeChoice<const Numbers extends readonly [number, number, ...number[]]>(
  ...numbers: Numbers
) {
  return z.literal([...numbers], { error: numbers.join(", ") });
}

/** A map with these fields and no others. */
export function map<Shape extends z.ZodRawShape>(shape: Shape) {
  const names = Object.keys(shape);
  return z.strictObject(shape, {
    error: (issue) =>
      issue.code === "unrecognized_keys" ? names.join(", ") : `a map with ${names.join(", ")}`,
  });
}

/** A map of names, each with the same kind of value. */
export function named<Value extends z.ZodType>(value: Value, allowed: string) {
  return z.record(id(), value, { error: allowed });
}

/** Maps of which one field, `key`, says by its word which other fields there are. */
export function chosenBy<
  const Maps extends readonly [z.core.$ZodTypeDiscriminable, ...z.core.$ZodTypeDiscriminable[]],
>(key: string, words: readonly string[], ...maps: Maps) {
  const notOne = words.join(", ");
  const notAMap = `a map with ${key}: ${notOne}`;
  // The library's types leave out that an entry which is no map comes here as well.
  const error = (issue: { readonly code?: string }): string =>
    issue.code === "invalid_union" ? notOne : notAMap;
  return z.discriminatedUnion(key, maps, { error });
}

/** A day of the calendar, kept as YYYY-MM-DD. */
export function day() {
  const allowed = "a day of the calendar from 1950-01-01 to 2199-12-31, written YYYY-MM-DD";
  return z
    .string({ error: allowed })
    .meta({ description: allowed, format: "date" })
    .check((context) => {
      const { value } = context;
      if (isDay(value)) return;
      const message = `${JSON.stringify(value.slice(0, 30))} is not a day of the calendar.`;
      refuse(context, context.value, { code: "INPUT_DATE_INVALID", allowed, message });
    });
}

export function isDay(written: string): boolean {
  if (!/^(?:19[5-9]\d|2[01]\d\d)-\d\d-\d\d$/u.test(written)) return false;
  const instant = new Date(`${written}T00:00:00Z`);
  return !Number.isNaN(instant.getTime()) && instant.toISOString().startsWith(written);
}

/** The name of an IANA time zone that this computer's time zone data knows. */
export function zone() {
  const allowed = "the name of an IANA time zone, such as Australia/Melbourne";
  return z
    .string({ error: allowed })
    .meta({ description: allowed })
    .check((context) => {
      if (isZone(context.value)) return;
      const message = `${JSON.stringify(context.value.slice(0, 40))} is not a time zone that is known.`;
      refuse(context, context.value, { code: "INPUT_ZONE_UNKNOWN", allowed, message });
    });
}

function isZone(name: string): boolean {
  if (!/^(?:UTC|[A-Za-z][\w+-]*(?:\/[\w+-]+)+)$/u.test(name)) return false;
  const known = zonesSeen.get(name);
  if (known !== undefined) return known;
  const exists = zoneExists(name);
  if (zonesSeen.size < 1000) zonesSeen.set(name, exists);
  return exists;
}

/** Asking takes a tenth of a millisecond, and ten thousand sites share a few zones. */
const zonesSeen = new Map<string, boolean>();

function zoneExists(name: string): boolean {
  try {
    new Intl.DateTimeFormat("en", { timeZone: name });
    return true;
  } catch {
    return false;
  }
}
