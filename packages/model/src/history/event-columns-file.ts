import * as z from "zod";
import { entriesOf, type Entry } from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";
import { list } from "../fields/list-field.ts";
import { choice, map, patterned, text, zone } from "../fields/plain-fields.ts";

/** The format `earthbell.events/1`: how an event log is read, and which of its events mean a fault. */
export const EVENTS_FORMAT = "earthbell.events/1";

const rule = map({
  /** What stands in the event column, letter by letter. */
  event: text(200).exactOptional(),
  /** What the text column holds somewhere, in capitals or small letters. */
  holds: text(200).exactOptional(),
  is: choice("earth-fault-bit", "residual-trip"),
  /** What the event says of the fault; needed where no state column does. */
  change: choice("begins", "ends").exactOptional(),
});

export const eventColumnsFile = map({
  format: z.literal(EVENTS_FORMAT, { error: EVENTS_FORMAT }),
  instant: text(200),
  event: text(200),
  text: text(200).exactOptional(),
  /** A column that says whether the event came or went, with its words for either. */
  state: text(200).exactOptional(),
  begins: list(text(100), 1, 50).exactOptional(),
  ends: list(text(100), 1, 50).exactOptional(),
  array: text(200).exactOptional(),
  /** Of instants that name none. */
  zone: zone().exactOptional(),
  delimiter: patterned(/^[^"\r\n]$/u, "one character").exactOptional(),
  faults: list(rule, 1, 1000),
  /** Events that no rule names: absent, they are passed over. */
  others: choice("pass", "refuse").exactOptional(),
});

/** What the schema cannot see: a rule goes by one column, and somebody has to say whether a fault begins or ends. */
export function* eventColumnsConsistency(data: Readonly<Record<string, unknown>>): Generator<FieldFault> {
  const root: Entry = { path: [], fields: data };
  const has = (field: string): boolean => data[field] !== undefined;
  if (has("state") && !(has("begins") && has("ends")))
    yield unfit(root, "state", "begins and ends beside it", "Its words for either are not given.");
  for (const entry of entriesOf(root, "faults")) {
    const { event, holds, change } = entry.fields;
    if ((event === undefined) === (holds === undefined))
      yield unfit(entry, null, "event or holds, one of the two", "A rule goes by one of its columns.");
    if (holds !== undefined && !has("text"))
      yield unfit(entry, "holds", "event, or text with the name of a column", "No text column is named.");
    if (change === undefined && !has("state"))
      yield unfit(entry, null, "change: begins or ends", "Nothing says whether the fault begins or ends.");
  }
}

function unfit({ path, fields }: Entry, field: string | null, allowed: string, message: string): FieldFault {
  const at = field === null ? path : [...path, field];
  const value = field === null ? fields : fields[field];
  return { code: "DESK_EVENT_RULE_UNFIT", path: at, part: "value", value, allowed, message };
}
