import { overridesSetAside, type RulePack } from "@earthbell/engine";
import { entriesOf, type Entry } from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";
import { checkOverride, type WantedOverride } from "./check-override.ts";

/** What the schema cannot see: packs and values that are not held, values that a pack may not have, weaker ones unconfirmed. */
export function* ruleOverridesConsistency(
  data: Readonly<Record<string, unknown>>,
  held: readonly RulePack[],
): Generator<FieldFault> {
  const entries = entriesOf({ path: [], fields: data }, "overrides").slice(0, MOST_CHECKED);
  const seen = new Set<string>();
  const all = entries.flatMap((entry) => (isAside(entry, held) ? [] : (wantedIn(entry) ?? [])));
  for (const entry of entries) {
    const wanted = wantedIn(entry);
    if (wanted === null) continue;
    const place = `${wanted.pack} ${wanted.field}`;
    if (seen.has(place)) yield repeated(entry, wanted);
    seen.add(place);
    const { troubles } = checkOverride(wanted, held, all);
    // What is set aside is not in force: its value is held against nothing.
    const told = isAside(entry, held)
      ? troubles.filter(({ code }) => code === "RULES_OVERRIDE_REASON")
      : troubles;
    for (const { field, code, allowed, message } of told)
      yield {
        code,
        path: [...entry.path, field],
        part: "value",
        value: entry.fields[field],
        allowed,
        message,
      };
  }
}

/** The schema refuses more of them. */
const MOST_CHECKED = 300;

/** An entry whose fields have the right types; the rest is the schema's to report. */
function wantedIn({ fields }: Entry): WantedOverride | null {
  const { pack, field, value, because = "", source = "", confirmed } = fields;
  if (typeof pack !== "string" || typeof field !== "string" || typeof value !== "number") return null;
  // A text that is missing or none is the schema's to report, and not a second time for being short.
  const words = (said: unknown): string => (typeof said === "string" && said !== "" ? said : "not said");
  return {
    pack,
    field,
    value,
    because: words(because),
    source: words(source),
    confirmed: confirmed === true,
  };
}

function repeated({ path }: Entry, { pack, field }: WantedOverride): FieldFault {
  return {
    code: "RULES_OVERRIDE_REPEATED",
    path: [...path, "field"],
    part: "value",
    value: field,
    allowed: "each value once",
    message: `${field} of ${pack} is overridden above already.`,
  };
}

/** Whether the pack says another value by now than when the entry was decided on. */
function isAside(entry: Entry, held: readonly RulePack[]): boolean {
  const wanted = wantedIn(entry);
  const { replaces } = entry.fields;
  if (wanted === null || typeof replaces !== "number") return false;
  const [found] = overridesSetAside(held, [{ ...wanted, replaces, by: "", on: "" }]);
  return found !== undefined && found.holds !== null;
}
