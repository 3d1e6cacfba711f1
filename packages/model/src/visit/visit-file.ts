import * as z from "zod";
import {
  chosenBy,
  choice,
  count,
  day,
  id,
  map,
  named,
  number,
  patterned,
  text,
  timeOfDay,
  yesNo,
} from "../fields/plain-fields.ts";
import { list } from "../fields/list-field.ts";
import { quantityFields, quantityReader } from "../fields/quantity-field.ts";
import { MOST_MODULES_IN_SERIES } from "../site/site-file.ts";

/**
 * The format `earthbell.visit/1` as its file writes it. A bare number is in the base unit (V, Ω, m; minutes for costs), because
 * readings are typed on a roof.
 */
const { quantity } = quantityFields("base unit");

export const VISIT_FORMAT = "earthbell.visit/1";

/**
 * What `value` may be, by the instrument that showed it; the file cannot tell before the instrument is looked up. Voltages and
 * currents are stored as sizes: the sign that an instrument shows depends on how its leads or its jaws were held.
 */
export const READING_VALUES = {
  voltmeter: quantityReader("voltage", { from: "0 V", to: "5000 V", anySign: true }, "base unit"),
  // An array in the light can drive a tester backwards, which then shows less than nothing.
  "insulation-tester": quantityReader("resistance", { from: "-10 TΩ", to: "10 TΩ" }, "base unit"),
  "insulation-monitor": quantityReader("resistance", { from: "0 Ω", to: "10 TΩ" }, "base unit"),
  "leakage-clamp": quantityReader("current", { from: "0 A", to: "100 A", anySign: true }, "base unit"),
} as const;

const stringSpec = map({
  id: id(),
  modules: count(1, MOST_MODULES_IN_SERIES),
  substrings: count(1, 24).exactOptional(),
  moduleVoc: quantity("voltage", { from: "0.1 V", to: "500 V" }).exactOptional(),
  moduleVocs: list(
    quantity("voltage", { from: "0 V", to: "500 V" }),
    1,
    MOST_MODULES_IN_SERIES,
  ).exactOptional(),
  homeRuns: map({
    positive: quantity("length", { from: "0 m", to: "20 km" }).exactOptional(),
    negative: quantity("length", { from: "0 m", to: "20 km" }).exactOptional(),
  }).exactOptional(),
});

const share = (most: string) => quantity("ratio", { from: "0 %", to: most });

const ohmAccuracy = map({
  reading: share("100 %").exactOptional(),
  floor: quantity("resistance", { from: "0 Ω", to: "1 GΩ" }).exactOptional(),
});

const instrument = chosenBy(
  "kind",
  ["voltmeter", "insulation-tester", "insulation-monitor", "leakage-clamp"],
  map({
    kind: z.literal("voltmeter"),
    inputResistance: quantity("resistance", { from: "1 kΩ", to: "1 TΩ" }).exactOptional(),
    inputTolerance: share("50 %").exactOptional(),
    accuracy: map({
      reading: share("50 %").exactOptional(),
      floor: quantity("voltage", { from: "0 V", to: "100 V" }).exactOptional(),
    }).exactOptional(),
  }),
  map({ kind: z.literal("insulation-tester"), accuracy: ohmAccuracy.exactOptional() }),
  map({ kind: z.literal("insulation-monitor"), accuracy: ohmAccuracy.exactOptional() }),
  map({
    kind: z.literal("leakage-clamp"),
    accuracy: map({
      reading: share("100 %").exactOptional(),
      floor: quantity("current", { from: "0 A", to: "1 A" }).exactOptional(),
    }).exactOptional(),
  }),
);

const shown = "what the instrument showed: a voltage in V, a resistance in Ω or a current in A";
const value = z.union([z.string(), z.number()], { error: shown }).meta({ description: shown });

const node = count(0, MOST_MODULES_IN_SERIES);

const reading = map({
  with: id().exactOptional(),
  on: id(),
  circuit: id().exactOptional(),
  segment: z.tuple([node, node], { error: "two nodes of the string, [a, b] with a < b" }).exactOptional(),
  isolated: list(id(), 1, 1000).exactOptional(),
  from: choice("+", "-", "shorted"),
  to: choice("+", "-", "earth"),
  shunt: quantity("resistance", { from: "10 Ω", to: "1 GΩ" }).exactOptional(),
  testVoltage: quantity("voltage", { from: "1 V", to: "10000 V", anySign: true }).exactOptional(),
  value,
});

const minutes = () => quantity("duration", { from: "1 s", to: "30 d" }).exactOptional();

const photo = map({
  /** Path of the picture, from the folder of the visit file. */
  file: text(300),
  shows: text(300).exactOptional(),
  on: day(),
  at: timeOfDay().exactOptional(),
  /** Of the picture, so that another one under its name is found out. */
  sha256: patterned(/^[0-9a-f]{64}$/u, "a SHA-256, 64 digits 0 to 9 and a to f").exactOptional(),
});

export const visitFile = map({
  format: z.literal(VISIT_FORMAT, { error: VISIT_FORMAT }),
  strings: list(stringSpec, 1, 1000),
  circuits: list(
    map({ id: id(), strings: list(id(), 1, 1000), blockingDiodes: yesNo().exactOptional() }),
    0,
    1000,
  ).exactOptional(),
  functionalEarth: map({
    on: id(),
    pole: choice("+", "-"),
    through: quantity("resistance", { from: "0 Ω", to: "1 GΩ" }).exactOptional(),
    opened: yesNo(),
  }).exactOptional(),
  instruments: named(instrument, "a map from the name of each instrument to its figures").exactOptional(),
  conditions: map({
    mismatch: share("20 %").exactOptional(),
    drift: share("50 %").exactOptional(),
    wet: yesNo().exactOptional(),
    underLoad: yesNo().exactOptional(),
  }).exactOptional(),
  readings: list(reading, 0, 10_000),
  costs: map({
    openConnector: minutes(),
    isolateString: minutes(),
    reading: minutes(),
    waitDry: minutes(),
  }).exactOptional(),
  priors: map({
    connector: number(0, 1e6),
    inModule: number(0, 1e6),
    homeRun: number(0, 1e6),
    combiner: number(0, 1e6),
  }).exactOptional(),
  recorded: list(text(), 0, 100).exactOptional(),
  photos: list(photo, 0, 200).exactOptional(),
});
