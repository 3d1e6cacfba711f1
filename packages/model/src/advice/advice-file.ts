import * as z from "zod";
import { choice, day, id, map, text } from "../fields/plain-fields.ts";
import { list } from "../fields/list-field.ts";
import {
  airTemperature,
  earthing,
  inverterFields,
  lightFields,
  moduleFields,
  modulesInString,
  MOST_STRINGS,
  mounting,
  person,
  place,
  weeklyHours,
} from "../site/site-file.ts";

export const ADVICE_FORMAT = "earthbell.advice/1";

const MOST_PEOPLE = 50;

/** The format `earthbell.advice/1` as its file writes it: one field an answer, none of them required. */
export const adviceFile = map({
  format: z.literal(ADVICE_FORMAT, { error: ADVICE_FORMAT }),
  site: map({ id: id().exactOptional(), name: text().exactOptional() }).exactOptional(),
  place: place.exactOptional(),
  installed: day().exactOptional(),
  strings: list(modulesInString(), 1, MOST_STRINGS).exactOptional(),
  module: map(moduleFields).exactOptional(),
  lowestTemperature: airTemperature().exactOptional(),
  inverter: map(inverterFields).exactOptional(),
  earthing: earthing().exactOptional(),
  mounting: mounting().exactOptional(),
  people: list(person, 0, MOST_PEOPLE).exactOptional(),
  present: weeklyHours().exactOptional(),
  network: choice("none", "owners-router", "own-line", "mobile").exactOptional(),
  light: map(lightFields).exactOptional(),
  relay: choice("none", "any-fault", "earth-fault").exactOptional(),
});
