import type { Entry } from "./entries.ts";
import type { FieldFault } from "./field-fault.ts";
import { isDay } from "./plain-fields.ts";

/** A later day that is before the earlier one; days that do not exist are the schema's to report. */
export function* datesReversed(entry: Entry, earlier: string, later: string): Generator<FieldFault> {
  const [first, last] = [entry.fields[earlier], entry.fields[later]];
  if (typeof first !== "string" || typeof last !== "string") return;
  if (!isDay(first) || !isDay(last) || first <= last) return;
  const path = [...entry.path, later];
  const message = `${later} ${last} is before ${earlier} ${first}.`;
  yield {
    code: "INPUT_DATES_REVERSED",
    path,
    part: "value",
    value: last,
    allowed: `${first} or later`,
    message,
  };
}
