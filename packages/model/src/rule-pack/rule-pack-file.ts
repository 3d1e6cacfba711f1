import * as z from "zod";
import { list } from "../fields/list-field.ts";
import {
  chosenBy,
  choice,
  count,
  day,
  id,
  map,
  number,
  patterned,
  text,
  yesNo,
} from "../fields/plain-fields.ts";

/** The format `earthbell.rules/1` as its file writes it: plain numbers, their unit in the name of the field. */
export const RULE_PACK_FORMAT = "earthbell.rules/1";

const MOST_ROWS = 500;
const provenance = {
  source: text(1000),
  tag: choice("published", "secondary", "memory", "common practice", "computed", "design choice", "user"),
};

function sourced<Value extends z.ZodType>(value: Value) {
  return map({ value, ...provenance });
}

const country = patterned(/^[A-Z]{2}$/u, "a country code of two capital letters (ISO 3166-1), such as AU");
const region = patterned(
  /^[A-Z0-9]{1,3}$/u,
  "the part after the hyphen of a region code (ISO 3166-2), such as VIC",
);

const window = map({
  basis: choice("work-done", "work-begun"),
  from: day().exactOptional(),
  until: day().exactOptional(),
  binding: choice("mandatory", "choice"),
  publishedFor: list(region, 1, 100).exactOptional(),
  ...provenance,
});

const bounds = { above: number(0, 1e9).exactOptional(), atMost: number(0, 1e9).exactOptional() };

const condition = chosenBy(
  "fact",
  ["max-voltage", "power-kilowatts", "parallel-strings", "earthing", "mounting", "separation", "date"],
  map({ fact: z.literal("max-voltage"), ...bounds }),
  map({ fact: z.literal("power-kilowatts"), ...bounds }),
  map({ fact: z.literal("parallel-strings"), ...bounds }),
  map({ fact: z.literal("earthing"), is: list(choice("floating", "functional", "solid"), 1, 3) }),
  map({ fact: z.literal("mounting"), is: list(choice("building", "field"), 1, 2) }),
  map({ fact: z.literal("separation"), is: list(choice("none", "simple"), 1, 2) }),
  map({ fact: z.literal("date"), from: day().exactOptional(), until: day().exactOptional() }),
);

const dutyRow = map({
  id: id(),
  when: list(condition, 0, 20),
  alarm: choice("required", "not-required", "undecided"),
  text: text(2000),
  settledBy: text(1000).exactOptional(),
  ...provenance,
});

const alarmNeeds = map({
  signals: sourced(list(choice("message", "annunciator", "indicator"), 1, 3)),
  perceived: sourced(text(1000)).exactOptional(),
  leastAddresses: sourced(count(1, 100)).exactOptional(),
  repeatEveryMinutes: sourced(number(1, 527_040)).exactOptional(),
  repeatUntil: sourced(list(choice("acknowledged", "cleared"), 1, 2)).exactOptional(),
  until: sourced(list(choice("cleared", "shut-down"), 1, 2)).exactOptional(),
  ownerInstructions: sourced(yesNo()).exactOptional(),
  checkEveryHours: sourced(number(0.01, 8784)).exactOptional(),
});

const span = { above: number(0, 1e9), atMost: number(0, 1e9).exactOptional() };

const insulationThreshold = map({
  rating: sourced(choice("array-kilowatts", "inverter-kilovoltamperes")),
  rows: list(map({ ...span, ohms: sourced(number(1, 1e12)) }), 1, MOST_ROWS),
});

const residualRow = map({
  ...span,
  milliamps: sourced(number(0.001, 1e6)).exactOptional(),
  milliampsPerKilovoltampere: sourced(number(0.001, 1e6)).exactOptional(),
});

const insulationTestRow = map({
  below: number(0, 1e6).exactOptional(),
  atMost: number(0, 1e6).exactOptional(),
  testVoltage: sourced(number(1, 1e5)),
  minimumOhms: sourced(number(1, 1e12)),
});

export const rulePackFile = map({
  format: z.literal(RULE_PACK_FORMAT, { error: RULE_PACK_FORMAT }),
  id: patterned(/^[a-z0-9]+(?:-[a-z0-9]+)*$/u, "lower-case letters and digits joined by hyphens"),
  title: text(),
  edition: text(),
  jurisdictions: list(map({ country, regions: list(region, 1, 100).exactOptional() }), 0, 300),
  selectedBy: choice("date", "name"),
  inForce: list(window, 0, 100),
  duty: list(dutyRow, 1, MOST_ROWS),
  alarm: alarmNeeds.exactOptional(),
  insulationThreshold: insulationThreshold.exactOptional(),
  residual: list(residualRow, 1, MOST_ROWS).exactOptional(),
  insulationTest: list(insulationTestRow, 1, MOST_ROWS).exactOptional(),
  notes: list(
    map({ text: text(2000), when: list(condition, 0, 20).exactOptional(), ...provenance }),
    0,
    200,
  ).exactOptional(),
  /** Who put this pack in the place of another, and why. */
  override: map({ by: text(200), on: day().exactOptional(), because: text(1000) }).exactOptional(),
});
