import * as z from "zod";
import { list } from "../fields/list-field.ts";
import { day, id, map, number, text, yesNo } from "../fields/plain-fields.ts";

/** The format `earthbell.rule-overrides/1`: values of rule packs that somebody answerable replaced. */
export const RULE_OVERRIDES_FORMAT = "earthbell.rule-overrides/1";

const MOST_OVERRIDES = 300;

const override = map({
  pack: id(),
  /** Place of the value in the pack, such as insulationThreshold.rows[0].ohms. */
  field: text(200),
  /** In the unit of the field. */
  value: number(0, 1e12),
  /** What the pack itself said when the value was overridden. */
  replaces: number(0, 1e12).exactOptional(),
  because: text(),
  source: text(),
  by: text(200),
  on: day(),
  /** Read that the value asks for less of the alarm, or might. */
  confirmed: yesNo().exactOptional(),
});

export const ruleOverridesFile = map({
  format: z.literal(RULE_OVERRIDES_FORMAT, { error: RULE_OVERRIDES_FORMAT }),
  /** Name of the desk that handed it out. */
  desk: text(200).exactOptional(),
  overrides: list(override, 0, MOST_OVERRIDES),
});
