import type { ArrayAssessment } from "@earthbell/engine";
import { type NotedLines, textWidth } from "../terminal/margin.ts";
import { marked, type State } from "../terminal/marks.ts";
import type { Page } from "../terminal/page.ts";
import { figure, hardSpace, quantity } from "../terminal/quantity.ts";
import { padEnd, wrap } from "../terminal/wrap.ts";

/** What an assessment says of one array: its duty with reasons, its voltage and limits, and how to prove the alarm. */
export function arrayBlocks(array: ArrayAssessment, page: Page): NotedLines[] {
  const area = array.areaM2 === null ? "area not known" : quantity(array.areaM2, "m²");
  return [
    row("Size", `${quantity(array.powerWatts, "W")}, ${area}`, page),
    ...dutyBlocks(array.duty, page),
    ...voltageBlock(array.maxVoltage, page),
    ...limitBlocks(array, page),
    ...proofBlocks(array.proofResistor, page),
  ];
}

const alarms: Readonly<Record<ArrayAssessment["duty"]["alarm"], { state: State; word: string }>> = {
  required: { state: "do-this", word: "alarm required" },
  "not-required": { state: "not-asked", word: "no alarm required" },
  undecided: { state: "unsure", word: "undecided" },
};

/** The word and state of a duty. */
export function dutyWord(alarm: ArrayAssessment["duty"]["alarm"]): {
  readonly state: State;
  readonly word: string;
} {
  return alarms[alarm];
}

function dutyBlocks(
  { alarm, rulePack, reasons, missing }: ArrayAssessment["duty"],
  page: Page,
): NotedLines[] {
  const { state, word } = alarms[alarm];
  return [
    {
      lines: [labelled("Duty", marked(state, word, page))],
      note: rulePack === null ? "no rule pack is in force here" : `rule pack ${rulePack}`,
    },
    ...reasons.map(({ text, source, tag }) => row("", text, page, `${source}; ${tag}`)),
    ...missing.map((what) => row("", `missing: ${what}`, page)),
  ];
}

function voltageBlock(voltage: ArrayAssessment["maxVoltage"], page: Page): NotedLines[] {
  if (voltage === null) return [row("Voltage", "not known", page)];
  const { volts, method, temperatureC, text, source, tag } = voltage;
  const by = method === "coefficient" ? "by the module's coefficient" : "by the temperature table";
  const value = `${quantity(volts, "V")} at ${quantity(temperatureC, "°C")}, ${by}`;
  return [
    row("Voltage", value, page, noted(source, tag)),
    ...(text === undefined ? [] : [row("", text, page)]),
  ];
}

function limitBlocks(array: ArrayAssessment, page: Page): NotedLines[] {
  const { insulationThreshold, insulationTest, residualLimit, healthyFloor } = array;
  const blocks: NotedLines[] = [];
  const add = (label: string, value: string, from: { source: string; tag: string } | null): void => {
    blocks.push(row(label, value, page, from ? noted(from.source, from.tag) : undefined));
  };
  add(
    "Threshold",
    insulationThreshold ? `${quantity(insulationThreshold.ohms, "Ω")} insulation` : "not known",
    insulationThreshold,
  );
  add("Healthy", floorText(healthyFloor), healthyFloor);
  add(
    "Test",
    insulationTest
      ? `at ${quantity(insulationTest.testVoltage, "V")}, at least ${quantity(insulationTest.minimumOhms, "Ω")}`
      : "not known",
    insulationTest,
  );
  add(
    "Residual",
    residualLimit
      ? `${quantity(residualLimit.continuousMilliamps, "mA")} continuous, at most`
      : "no limit applies or it is not known",
    residualLimit,
  );
  return blocks;
}

function floorText(floor: ArrayAssessment["healthyFloor"]): string {
  if (floor === null) return "floor not known";
  const { ohms, marginToThreshold } = floor;
  const text = `a sound array may show ${quantity(ohms, "Ω")}`;
  if (marginToThreshold === null) return text;
  return `${text}, ${figure(marginToThreshold, 3)}${hardSpace}times the threshold`;
}

function proofBlocks(resistor: ArrayAssessment["proofResistor"], page: Page): NotedLines[] {
  if (resistor === null) return [row("Proof", "no test resistor could be worked out", page)];
  const { ohms, watts, milliamps, elements, warnings } = resistor;
  const parts = elements === 1 ? "one element" : `${figure(elements)} elements in series`;
  const value = `${quantity(ohms, "Ω")}, ${quantity(watts, "W")}, ${parts}; it carries ${quantity(milliamps, "mA")}`;
  return [
    { lines: [labelled("Proof", marked("do-this", "read before the test resistor is used", page))] },
    ...warnings.map((warning) => row("", warning, page)),
    row("", `Test resistor: ${value}`, page),
  ];
}

const labelWidth = 11;

function labelled(label: string, text: string): string {
  return `  ${padEnd(label, labelWidth)}${text}`;
}

/** A label, a value wrapped beside it, and where the value comes from. */
function row(label: string, value: string, page: Page, note?: string): NotedLines {
  const lines = wrap(value, textWidth(page) - labelWidth - 2).map((line, index) =>
    labelled(index === 0 ? label : "", line),
  );
  return note === undefined ? { lines } : { lines, note };
}

function noted(source: string | undefined, tag: string | undefined): string | undefined {
  const parts = [source, tag].filter((part) => part !== undefined);
  return parts.length === 0 ? undefined : parts.join("; ");
}
