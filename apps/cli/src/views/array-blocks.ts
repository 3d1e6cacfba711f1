import { type ArrayAssessment, VOLTAGE_DIGITS } from "@earthbell/engine";
import type { NotedLines } from "../terminal/margin.ts";
import type { State } from "../terminal/marks.ts";
import type { Page } from "../terminal/page.ts";
import { figure, hardSpace, quantity } from "../terminal/quantity.ts";
import { findingsBlocks } from "./findings-text.ts";
import { proofBlocks } from "./proof-blocks.ts";
import { item, markedRow, row } from "./row.ts";

/** What an assessment says of one array: its duty with reasons, its voltage and limits, and how to prove the alarm. */
export function arrayBlocks(array: ArrayAssessment, page: Page): NotedLines[] {
  const area = array.areaM2 === null ? "area not known" : quantity(array.areaM2, "area");
  return [
    row("Size", `${quantity(array.powerWatts, "real power")}, ${area}`, page),
    ...dutyBlocks(array.duty, page),
    ...voltageBlock(array.maxVoltage, page),
    ...limitBlocks(array, page),
    ...proofBlocks(array.proofResistor, page),
    ...findingsBlocks(array.findings, page),
  ];
}

const alarms: Readonly<Record<ArrayAssessment["duty"]["alarm"], { state: State; word: string }>> = {
  required: { state: "do-this", word: "alarm required" },
  "not-required": { state: "not-asked", word: "no alarm required" },
  undecided: { state: "unsure", word: "undecided" },
};

export function dutyBlocks(duty: ArrayAssessment["duty"], page: Page): NotedLines[] {
  const { state, word } = alarms[duty.alarm];
  const pack = duty.rulePack === null ? "no single rule pack decides" : `rule pack ${duty.rulePack}`;
  return [
    markedRow("Duty", state, word, page, duty.row === null ? pack : `${pack}, row ${duty.row}`),
    ...duty.reasons.map(({ text, source, tag }) => item(text, page, `${source}; ${tag}`)),
    ...mayBindTexts(duty).map((text) => item(text, page)),
    ...duty.missing.map((what) => item(`missing: ${what}`, page)),
  ];
}

const saying: Readonly<Record<ArrayAssessment["duty"]["alarm"], string>> = {
  required: "it requires an alarm",
  "not-required": "it requires no alarm",
  undecided: "whether it requires an alarm is open",
};

/** Which packs may bind and what each says, where it is not one alone that decides. */
export function mayBindTexts({ rulePack, mayBind }: ArrayAssessment["duty"]): readonly string[] {
  return mayBind
    .filter((one) => rulePack === null || one.rulePack !== rulePack)
    .map(({ rulePack: id, says, work }) => {
      const pack = id === null ? "an edition that is not held here" : `rule pack ${id}`;
      const instead = rulePack === null ? "" : " instead";
      const forWork =
        work === undefined ? "" : ` for the ${work === "altered" ? "alteration" : "installation"}`;
      return `${pack} may bind${instead}${forWork}: ${id === null ? "what it says is not known" : saying[says]}`;
    });
}

const methods: Readonly<Record<NonNullable<ArrayAssessment["maxVoltage"]>["method"], string>> = {
  coefficient: "by the module's coefficient",
  table: "by the temperature table",
  stated: "as the site file states it",
};

export function voltageBlock(voltage: ArrayAssessment["maxVoltage"], page: Page): NotedLines[] {
  if (voltage === null) return [row("Voltage", "not known", page)];
  const { volts, method, temperatureC, text, source, tag } = voltage;
  const value = `${quantity(volts, "voltage", VOLTAGE_DIGITS)} at ${quantity(temperatureC, "temperature")}, ${methods[method]}`;
  return [
    row("Voltage", value, page, noted(source, tag)),
    ...(text === undefined ? [] : [row("", text, page)]),
  ];
}

function limitBlocks(array: ArrayAssessment, page: Page): NotedLines[] {
  const { insulationThreshold: threshold, insulationTest: test, residualLimit, healthyFloor } = array;
  const line = (label: string, value: string, from: { source: string; tag: string } | null): NotedLines =>
    row(label, value, page, from ? noted(from.source, from.tag) : undefined);
  return [
    line("Threshold", threshold ? thresholdText(threshold, array.duty.alarm) : "not known", threshold),
    line("Healthy", floorText(healthyFloor), healthyFloor),
    ...testLines(test).map((text, index) => line(index === 0 ? "Test" : "", text, index === 0 ? null : test)),
    line(
      "Residual",
      residualLimit
        ? `${quantity(residualLimit.continuousMilliamps / 1000, "current")} continuous, at most`
        : "no limit applies, or it is not known",
      residualLimit,
    ),
  ];
}

/** The caution stands before the voltage that it is about. */
function testLines(test: ArrayAssessment["insulationTest"]): readonly string[] {
  if (test === null) return ["not known"];
  const volts = quantity(test.testVoltage, "voltage");
  return [
    `only where modules, cables, surge protectors and all else that stays connected are stated to bear ${volts}`,
    `at ${volts}, at least ${quantity(test.minimumOhms, "resistance")}`,
  ];
}

const thresholdWords: Readonly<Record<ArrayAssessment["duty"]["alarm"], (limit: string) => string>> = {
  required: (limit) => `alarm below ${limit}`,
  undecided: (limit) => `alarm below ${limit}, if an alarm is required`,
  "not-required": (limit) => `no alarm is required; the insulation limit would be ${limit}`,
};

const ratings: Readonly<Record<string, string>> = {
  "array-kilowatts": "the array's kW",
  "inverter-kilovoltamperes": "the inverter's kVA",
};

export function thresholdText(
  { ohms, otherwise }: NonNullable<ArrayAssessment["insulationThreshold"]>,
  alarm: ArrayAssessment["duty"]["alarm"],
): string {
  const text = thresholdWords[alarm](quantity(ohms, "resistance"));
  if (!otherwise) return text;
  const rating = ratings[otherwise.rating] ?? otherwise.rating;
  return `${text}; by ${rating} it would be ${quantity(otherwise.ohms, "resistance")}`;
}

function floorText(floor: ArrayAssessment["healthyFloor"]): string {
  if (floor === null) return "floor not known";
  const { ohms, marginToThreshold } = floor;
  const text = `a sound array may show as little as ${quantity(ohms, "resistance")}`;
  if (marginToThreshold === null) return text;
  return `${text}, ${figure(marginToThreshold, 3)}${hardSpace}times the threshold`;
}

function noted(source: string | undefined, tag: string | undefined): string | undefined {
  const parts = [source, tag].filter((part) => part !== undefined);
  return parts.length === 0 ? undefined : parts.join("; ");
}
