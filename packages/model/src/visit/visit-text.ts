import { type Reading, type Visit, formatQuantity } from "@earthbell/engine";

/** Digits that keep a reading to well below any instrument's error. */
const DIGITS = { significant: 6 } as const;

/**
 * A visit as the file a person would write: one instrument and one reading a line. Reading the text gives the same visit
 * to six digits.
 *
 * @param notes  lines put at the top as comments
 */
export function visitText(visit: Visit, notes: readonly string[] = []): string {
  const lines = [
    ...notes.map((note) => `# ${note}`),
    "format: earthbell.visit/1",
    "strings:",
    ...visit.strings.map((spec) => {
      const substrings = spec.substrings === undefined ? "" : `, substrings: ${String(spec.substrings)}`;
      const voc =
        spec.moduleVoc === undefined
          ? ""
          : `, moduleVoc: ${formatQuantity(spec.moduleVoc, "voltage", DIGITS)}`;
      return `  - {id: ${spec.id}, modules: ${String(spec.modules)}${substrings}${voc}}`;
    }),
    ...(visit.circuits.length === 0 ? [] : ["circuits:"]),
    ...visit.circuits.map(({ id, strings, blockingDiodes }) => {
      const diodes = blockingDiodes === undefined ? "" : `, blockingDiodes: ${String(blockingDiodes)}`;
      return `  - {id: ${id}, strings: [${strings.join(", ")}]${diodes}}`;
    }),
    "instruments:",
    ...visit.instruments.map((instrument) => `  ${instrument.name}: ${instrumentText(instrument)}`),
    `conditions: {${conditionsText(visit)}}`,
    "readings:",
    ...visit.readings.map((reading) => `  - ${readingText(reading)}`),
  ];
  return `${lines.join("\n")}\n`;
}

function instrumentText(instrument: Visit["instruments"][number]): string {
  const fields = [`kind: ${instrument.kind}`];
  const accuracy: string[] = [];
  if (instrument.kind === "voltmeter" && instrument.inputResistance !== undefined)
    fields.push(`inputResistance: ${formatQuantity(instrument.inputResistance, "resistance", DIGITS)}`);
  if (instrument.accuracy?.reading !== undefined)
    accuracy.push(`reading: ${formatQuantity(instrument.accuracy.reading, "ratio", DIGITS)}`);
  if (instrument.accuracy?.floor !== undefined) {
    if (instrument.kind === "voltmeter")
      accuracy.push(`floor: ${formatQuantity(instrument.accuracy.floor, "voltage", DIGITS)}`);
    else if (instrument.kind === "leakage-clamp")
      accuracy.push(`floor: ${formatQuantity(instrument.accuracy.floor, "current", DIGITS)}`);
    else accuracy.push(`floor: ${formatQuantity(instrument.accuracy.floor, "resistance", DIGITS)}`);
  }
  if (accuracy.length > 0) fields.push(`accuracy: {${accuracy.join(", ")}}`);
  return `{${fields.join(", ")}}`;
}

function conditionsText({ conditions }: Visit): string {
  const { mismatch, drift, wet, underLoad } = conditions;
  return [
    ...(mismatch === undefined ? [] : [`mismatch: ${formatQuantity(mismatch, "ratio", DIGITS)}`]),
    ...(drift === undefined ? [] : [`drift: ${formatQuantity(drift, "ratio", DIGITS)}`]),
    ...(wet === undefined ? [] : [`wet: ${String(wet)}`]),
    ...(underLoad === undefined ? [] : [`underLoad: ${String(underLoad)}`]),
  ].join(", ");
}

function readingText(reading: Reading): string {
  const where = [
    `with: ${reading.with}`,
    `on: ${reading.on}`,
    ...(reading.kind === "leakage" ? [`circuit: ${reading.circuit}`] : []),
    ...(reading.segment === undefined ? [] : [`segment: [${reading.segment.join(", ")}]`]),
    ...(reading.isolated === undefined ? [] : [`isolated: [${reading.isolated.join(", ")}]`]),
  ];
  return `{${[...where, `from: ${reading.from}`, `to: ${reading.to}`, ...valueFields(reading)].join(", ")}}`;
}

function valueFields(reading: Reading): string[] {
  if (reading.kind === "insulation")
    return [
      `testVoltage: ${formatQuantity(reading.testVoltage, "voltage", DIGITS)}`,
      `value: ${formatQuantity(reading.value, "resistance", DIGITS)}`,
    ];
  const shunt =
    reading.shunt === undefined ? [] : [`shunt: ${formatQuantity(reading.shunt, "resistance", DIGITS)}`];
  const value =
    reading.kind === "leakage"
      ? formatQuantity(reading.value, "current", DIGITS)
      : formatQuantity(reading.value, "voltage", DIGITS);
  return [...shunt, `value: ${value}`];
}
