import type { RulePack } from "@earthbell/engine";
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
  const all = entries.flatMap((entry) => wantedIn(entry) ?? []);
  for (const entry of entries) {
    const wanted = wantedIn(entry);
    if (wanted === null) continue;
    const place = `${wanted.pack} ${wanted.field}`;
    if (seen.has(place)) yield repeated(entry, wanted);
    seen.add(place);
    const { known, troubles } = checkOverride(wanted, held, all);
    for (const { field, code, allowed, message } of troubles)
      yield {
        code,
        path: [...entry.path, field],
        part: "value",
        value: entry.fields[field],
        allowed,
        message,
      };
    const { replaces } = entry.fields;
    if (known !== null && typeof replaces === "number" && replaces !== known.value)
      yield stale(entry, replaces, known.value, known.unit);
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

function stale({ path }: Entry, replaces: number, value: number, unit: string): FieldFault {
  const own = unit === "" ? String(value) : `${value} ${unit}`;
  return {
    code: "RULES_OVERRIDE_STALE",
    path: [...path, "replaces"],
    part: "value",
    value: replaces,
    allowed: `${value}, once it was looked at again`,
    message: `The value was overridden when the pack said ${replaces}; the pack that is held here says ${own}.`,
  };
}
