import type { ArrayAssessment, Duty, RulesUsed } from "@earthbell/engine";
import type { Block, Figure } from "../../content/paper.ts";
import { overriddenValues } from "../../content/overridden-values.ts";
import { quantityWords } from "../../content/quantity-words.ts";

/** One array: its duty with what says so, rule values that were overridden, its figures, and what was found about it. */
export function arraySection(array: ArrayAssessment, used: readonly RulesUsed[]): readonly Block[] {
  return [
    { kind: "heading", level: 1, text: `Array ${array.array}` },
    { kind: "heading", level: 2, text: "Duty" },
    { kind: "paragraph", weight: "lead", text: dutyWords(array.duty) },
    ...overriddenValues(used),
    reasonsTable(array.duty),
    ...missingList(array.duty),
    { kind: "heading", level: 2, text: "Figures" },
    { kind: "figures", caption: "", rows: arrayFigures(array) },
    ...findingsTable(array.findings),
  ];
}

function dutyWords({ alarm, rulePack, row }: Duty): string {
  const by = rulePack === null ? "" : ` by rule pack ${rulePack}${row === null ? "" : `, row ${row}`}`;
  switch (alarm) {
    case "required":
      return `An earth-fault alarm is required${by}.`;
    case "not-required":
      return `No earth-fault alarm is required${by}.`;
    case "undecided":
      return `Whether an earth-fault alarm is required is undecided${by}.`;
  }
}

function reasonsTable({ reasons }: Duty): Block {
  return {
    kind: "table",
    caption: "Why",
    columns: [
      { head: "Reason", share: 0.62 },
      { head: "Where it comes from", share: 0.38 },
    ],
    rows: reasons.map(({ text, source, tag }) => [text, `${source}; ${tag}`]),
  };
}

function missingList({ missing }: Duty): readonly Block[] {
  if (missing.length === 0) return [];
  return [
    { kind: "paragraph", text: "What would settle it:" },
    { kind: "list", items: missing },
  ];
}

/** Every figure of an array's assessment; one that could not be worked out is not there. */
function arrayFigures(array: ArrayAssessment): readonly Figure[] {
  const { maxVoltage, insulationThreshold, insulationTest, residualLimit, healthyFloor, proofResistor } =
    array;
  const module = { source: "modules and strings of the site file", tag: "computed" } as const;
  const rows: Figure[] = [
    { label: "Rated power of the array", value: quantityWords(array.powerWatts, "real power"), ...module },
  ];
  if (maxVoltage !== null)
    rows.push({
      label: `Highest voltage, at ${maxVoltage.temperatureC} °C`,
      value: quantityWords(maxVoltage.volts, "voltage"),
      source: maxVoltage.source ?? `by ${maxVoltage.method}`,
      tag: maxVoltage.tag ?? "computed",
    });
  if (insulationThreshold !== null)
    rows.push({
      label: "Alarm at insulation below",
      value: quantityWords(insulationThreshold.ohms, "resistance"),
      ...from(insulationThreshold),
    });
  if (healthyFloor !== null)
    rows.push({
      label: "Insulation that a sound array of this size may have",
      value: quantityWords(healthyFloor.ohms, "resistance"),
      ...from(healthyFloor),
    });
  if (insulationTest !== null)
    rows.push(
      {
        label: "Insulation test at",
        value: quantityWords(insulationTest.testVoltage, "voltage"),
        ...from(insulationTest),
      },
      {
        label: "Insulation test, at least",
        value: quantityWords(insulationTest.minimumOhms, "resistance"),
        ...from(insulationTest),
      },
    );
  if (residualLimit !== null)
    rows.push({
      label: "Continuous residual current, at most",
      value: `${residualLimit.continuousMilliamps} mA`,
      ...from(residualLimit),
    });
  return [...rows, ...resistorFigures(proofResistor)];
}

function resistorFigures(proofResistor: ArrayAssessment["proofResistor"]): readonly Figure[] {
  if (proofResistor === null) return [];
  return [
    {
      label: proofResistor.permitted ? "Test resistor for the proof" : "Test resistor, NOT to be connected",
      value: `${quantityWords(proofResistor.ohms, "resistance")}, ${quantityWords(proofResistor.watts, "real power")}`,
      source: `threshold with its tolerance; ${proofResistor.milliamps.toPrecision(3)} mA at the highest voltage`,
      tag: "computed",
    },
  ];
}

function from({ source, tag }: Pick<Figure, "source" | "tag">): Pick<Figure, "source" | "tag"> {
  return { source, tag };
}

interface Found {
  readonly code: string;
  readonly severity: string;
  readonly text: string;
  readonly source?: string;
  readonly tag?: string;
}

/** Findings with their code, weight and source; faults by a sign and a word, so that grey print says the same. */
export function findingsTable(findings: readonly Found[]): readonly Block[] {
  if (findings.length === 0) return [];
  const signs: Readonly<Record<string, string>> = { fault: "▲ Fault", caution: "◆ Caution", note: "Note" };
  return [
    {
      kind: "table",
      caption: "What was found",
      columns: [
        { head: "Weight", share: 0.12 },
        { head: "Finding", share: 0.52 },
        { head: "Code; where it comes from", share: 0.36 },
      ],
      rows: findings.map(({ code, severity, text, source, tag }) => [
        signs[severity] ?? severity,
        text,
        [code, source, tag].filter((one) => one !== undefined).join("; "),
      ]),
    },
  ];
}
