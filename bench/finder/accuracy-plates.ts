import { type Line, type Panel, plate } from "./chart.ts";
import type { Bin, FirstReadings } from "./first-readings.ts";
import { type Accuracy, ohms } from "./report.ts";

const SHARE_TICKS = [0, 20, 40, 60, 80, 100].map((value) => [value, `${String(value)} %`] as const);
const standardError = (share: number, cases: number): number =>
  100 * Math.sqrt((share * (1 - share)) / Math.max(1, cases));

/** How often the place is named rightly from five readings, by the fault's resistance. */
export function accuracyPlate(results: Accuracy): string {
  const rows = [results.first[0]!, ...results.halfDecades];
  const panel = (title: string, lines: readonly Line[]): Panel => ({
    title,
    x: {
      label: "resistance of the fault, middle of its range",
      from: 250,
      to: 1.8e6,
      scale: "log",
      ticks: [1e3, 10e3, 100e3, 1e6].map((value) => [value, ohms(value)]),
    },
    y: { label: "share of cases", from: 0, to: 100, scale: "even", ticks: SHARE_TICKS },
    lines,
  });
  const line = (label: string, stroke: Line["stroke"], pick: (row: FirstReadings) => number): Line => ({
    label,
    stroke,
    points: rows.map((row) => [Math.sqrt(row.ohms[0] * row.ohms[1]), 100 * pick(row)]),
    ...(stroke === "ours" ? { errors: rows.map((row) => standardError(pick(row), row.cases)) } : {}),
  });
  return plate(
    "Where the fault is, from five readings",
    [
      "The finder in copper, the rule of proportion dashed, the bound of the readings in thin ink.",
      `Bars: one standard error. ${measured(results)}`,
    ],
    [
      panel("exact place", [
        { ...line("finder", "ours", (row) => row.exact), labelDown: 6 },
        { ...line("hand rule", "other", (row) => row.handExact), labelDown: 10 },
        { ...line("bound", "bound", (row) => row.boundExact), labelDown: -8 },
      ]),
      panel("within one module", [
        { ...line("finder", "ours", (row) => row.withinOne), labelDown: 2 },
        { ...line("hand rule", "other", (row) => row.handWithinOne), labelDown: 14 },
        { ...line("bound", "bound", (row) => row.boundWithinOne), labelDown: -12 },
      ]),
    ],
  );
}

/** Whether what the finder states comes true: probabilities of places, and credible sets. */
export function calibrationPlate(results: Accuracy): string {
  return plate(
    "Whether its probabilities come true",
    [
      "Soft faults of 20 kΩ to 1.6 MΩ. Thin ink: what is stated. Copper: the truth drawn by the finder's weights; dashed: every place alike.",
      `Bars: one standard error. ${measured(results)}`,
    ],
    [placesPanel(results), setsPanel(results)],
  );
}

function placesPanel({ first, byWeights }: Accuracy): Panel {
  const axis = { from: 0, to: 100, scale: "even", ticks: SHARE_TICKS } as const;
  return {
    title: "single places",
    x: { ...axis, label: "probability stated for a place" },
    y: { ...axis, label: "share of them damaged" },
    lines: [
      stated(0),
      { ...binLine("by weights", "ours", byWeights[1]!.reliability), labelDown: -10 },
      { ...binLine("alike", "other", first[1]!.reliability), labelDown: 12 },
    ],
  };
}

function setsPanel({ first, byWeights }: Accuracy): Panel {
  const levels = [50, 60, 70, 80, 90, 100].map((value) => [value, `${String(value)} %`] as const);
  return {
    title: "credible sets, the last place by share",
    x: { label: "level of the set", from: 45, to: 100, scale: "even", ticks: levels },
    y: {
      label: "share of sets that hold the truth",
      from: 40,
      to: 100,
      scale: "even",
      ticks: SHARE_TICKS.slice(2),
    },
    lines: [
      stated(45),
      { ...setLine("by weights", "ours", byWeights[1]!), labelDown: -8 },
      { ...setLine("alike", "other", first[1]!), labelDown: 12 },
    ],
  };
}

/** What is stated, were it exactly true. */
const stated = (from: number): Line => ({
  label: "",
  stroke: "bound",
  points: [
    [from, from],
    [100, 100],
  ],
});

/** A bin with too few places says nothing. */
const FEWEST = 20;

function binLine(label: string, stroke: Line["stroke"], bins: readonly Bin[]): Line {
  const kept = bins.filter(({ places }) => places >= FEWEST);
  return {
    label,
    stroke,
    points: kept.map(({ stated, damaged }) => [100 * stated, 100 * damaged]),
    errors: kept.map(({ damaged, places }) => standardError(damaged, places)),
  };
}

function setLine(label: string, stroke: Line["stroke"], row: FirstReadings): Line {
  return {
    label,
    stroke,
    points: row.sets.map(({ level, trimmed }) => [100 * level, 100 * trimmed]),
    errors: row.sets.map(({ level }) => standardError(level, row.cases)),
  };
}

const measured = ({ date, version }: Accuracy): string => `Measured ${date}, version ${version}.`;
