import * as z from "zod";
import { choice, day, id, map, text } from "../fields/plain-fields.ts";
import { list } from "../fields/list-field.ts";

/** The format `earthbell.setting-sheet/1`: a team's own steps for one family of devices. */
export const SETTING_SHEET_FORMAT = "earthbell.setting-sheet/1";

export const MOST_STEPS = 200;

const step = map({
  do: text(1000),
  /** What the device shows then. */
  shows: text().exactOptional(),
  /** What is set; a value of the site goes here in words. */
  value: text().exactOptional(),
  why: text(1000).exactOptional(),
  /** Read before this step. */
  caution: text(1000).exactOptional(),
  source: text(1000),
  tag: choice("published", "secondary", "memory", "common practice", "computed", "design choice", "user"),
});

export const settingSheetFile = map({
  format: z.literal(SETTING_SHEET_FORMAT, { error: SETTING_SHEET_FORMAT }),
  id: id(),
  device: map({ family: text(200), firmware: text(200).exactOptional() }),
  by: text(200),
  reviewedOn: day(),
  cautions: list(text(1000), 0, 50).exactOptional(),
  steps: list(step, 1, MOST_STEPS),
});
