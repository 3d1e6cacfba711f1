import * as z from "zod";
import {
  choice,
  count,
  day,
  id,
  map,
  number,
  patterned,
  text,
  timeOfDay,
  yesNo,
} from "../fields/plain-fields.ts";
import { list } from "../fields/list-field.ts";
import { quantityFields } from "../fields/quantity-field.ts";
import { MOST_STEPS } from "../setting-sheet/setting-sheet-file.ts";

/** The format `earthbell.commissioning/1`: what was measured when an alarm was commissioned, by whom and with what. */
export const COMMISSIONING_FORMAT = "earthbell.commissioning/1";

const { quantity } = quantityFields("refuse");
const celsius = () => quantity("temperature", { from: "-60 °C", to: "120 °C" });

const person = map({ name: text(200), licence: text(200).exactOptional() });

const condition = map({
  time: timeOfDay(),
  sky: text(200).exactOptional(),
  array: choice("dry", "wet"),
  air: celsius().exactOptional(),
  /** On the back of a module. */
  module: celsius().exactOptional(),
  /** W/m². */
  irradiance: number(0, 2000).exactOptional(),
});

const instrument = map({
  id: id(),
  what: text(200),
  /** Its own number, by which its calibration is known. */
  number: text(100),
  calibrated: day(),
  provedBefore: yesNo(),
  provedAfter: yesNo(),
});

const result = map({
  array: id(),
  /** Left out where it holds for every path of the array. */
  path: id().exactOptional(),
  /** Id of a step of the proof, such as insulation-test. */
  step: id(),
  /** Which line of the step's table, from 1; 1 when left out. */
  line: count(1, 500).exactOptional(),
  /** String, pole or place that was measured. */
  at: text(100).exactOptional(),
  /** As the instrument showed it: "4.1 MΩ", "> 1 GΩ", or words where nothing was measured. */
  reading: text(200),
  with: id().exactOptional(),
  /** The limit that was gone by, where it is not that of the program, and where it comes from. */
  limit: text(100).exactOptional(),
  limitFrom: text(300).exactOptional(),
  passed: yesNo(),
  note: text(500).exactOptional(),
});

const drill = map({
  path: id(),
  raised: timeOfDay(),
  acknowledgedBy: text(200).exactOptional(),
  acknowledged: timeOfDay().exactOptional(),
  proved: yesNo(),
  note: text(500).exactOptional(),
});

const sheetStep = map({
  /** Its number in the sheet, from 1. */
  step: count(1, MOST_STEPS),
  /** What the sheet said when it was ticked. */
  do: text(1000),
  /** Left out: nobody has said. */
  done: yesNo().exactOptional(),
  by: text(200).exactOptional(),
  on: day().exactOptional(),
  at: timeOfDay().exactOptional(),
  /** What was found or set on the device. */
  found: text(200).exactOptional(),
  /** Why it was not done. */
  because: text(500).exactOptional(),
});

/** A setting sheet as it was ticked on one device. */
const settings = map({
  sheet: id(),
  title: text(200),
  /** Left out for a sheet that was never issued. */
  revision: count(1, 1_000_000).exactOptional(),
  /** Of what the sheet held when it was ticked, as its paper states it. */
  digest: patterned(/^[0-9a-f]{64}$/u, "the digest of the sheet, 64 digits 0 to 9 and a to f"),
  /** Which one, where the site has several. */
  device: text(200).exactOptional(),
  /** As found on the device. */
  firmware: text(100).exactOptional(),
  steps: list(sheetStep, 1, MOST_STEPS),
});

const signature = map({ as: choice("tested", "witnessed", "handed-over"), name: text(200), on: day() });

export const commissioningFile = map({
  format: z.literal(COMMISSIONING_FORMAT, { error: COMMISSIONING_FORMAT }),
  site: id(),
  on: day(),
  by: person,
  conditions: list(condition, 1, 50),
  instruments: list(instrument, 1, 50),
  results: list(result, 1, 5000),
  settings: list(settings, 0, 100).exactOptional(),
  drills: list(drill, 0, 200).exactOptional(),
  signatures: list(signature, 0, 20).exactOptional(),
});
