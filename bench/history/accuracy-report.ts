import { SIMULATED_TROUBLES } from "@earthbell/engine";
import type { Confusion } from "./confusion.ts";
import type { Coverage } from "./coverage.ts";
import type { StepResult } from "./steps.ts";

export interface AccuracyResults {
  readonly date: string;
  readonly node: string;
  readonly seed: number;
  readonly confusion: Confusion;
  readonly coverage: Coverage;
  readonly steps: readonly StepResult[];
  readonly healthy: { readonly alarms: number; readonly years: number };
}

const percent = (part: number, whole: number): string =>
  `${((100 * part) / Math.max(1, whole)).toFixed(1)} %`;

export function accuracyReport(results: AccuracyResults): string {
  const { date, node, seed } = results;
  return [
    "# How right insulation histories are read",
    "",
    `Date ${date}, Node ${node}, seed ${seed}. Regenerate with \`npm run bench -- history-accuracy\`.`,
    "",
    "Simulated records: leaks add as conductances, dew is a mass balance, corrosion follows damp and warmth. That is not the",
    "model histories are read with, but both come from the same authors and no field record was at hand: real arrays will be",
    "read less well. Rules were set on other seeds of the same generator.",
    "",
    ...kindPart(results.confusion),
    ...crossingPart(results.coverage),
    ...stepPart(results.steps),
    ...alarmPart(results.healthy),
  ].join("\n");
}

function kindPart({ counts, macroF1, f1, leftOut, byStyle, calibration }: Confusion): string[] {
  const total = Object.values(counts).reduce(
    (sum, row) => sum + Object.values(row).reduce((a, b) => a + b, 0),
    0,
  );
  return [
    `## Kind of trouble, ${total} histories`,
    "",
    `Macro F1 **${macroF1.toFixed(3)}** (asked: 0.9). Six in ten with weather beside one check a morning, three with a check every half`,
    `hour and no weather, one with one check and nothing else. ${leftOut} declines of less than a factor of 1.6 were left out.`,
    "",
    `| truth | ${SIMULATED_TROUBLES.join(" | ")} | too little | F1 |`,
    `|---|${"---|".repeat(SIMULATED_TROUBLES.length + 2)}`,
    ...SIMULATED_TROUBLES.map((kind) => {
      const cells = [...SIMULATED_TROUBLES, "too-little-data"].map((said) =>
        String(counts[kind]?.[said] ?? 0),
      );
      return `| ${kind} | ${cells.join(" | ")} | ${f1[kind]!.toFixed(3)} |`;
    }),
    "",
    ...Object.entries(byStyle).map(
      ([style, { right, count }]) => `- ${style}: ${percent(right, count)} of ${count} right`,
    ),
    "",
    "| stated probability of the verdict | right | histories |",
    "|---|---|---|",
    ...calibration.map(
      ({ stated, right, count }) => `| ${stated.toFixed(2)} | ${right.toFixed(2)} | ${count} |`,
    ),
    "",
  ];
}

function crossingPart({ count, inside, early, late, open, medianErrorDays, notFound }: Coverage): string[] {
  return [
    "## Day of crossing",
    "",
    `${count} declines cut off at a random day, threshold at the true level of a day 30 to 700 days later: the 90 % interval held the`,
    `true day in **${percent(inside, count)}** (asked: 85 to 95 %); truth came before it in ${early}, after it in ${late}; ${open} had no later end within five`,
    `years. Middle forecast off by ${Math.round(medianErrorDays)} days in the median. ${notFound} more were not yet called progressive at the cut and made no such forecast.`,
    "",
  ];
}

function stepPart(steps: readonly StepResult[]): string[] {
  return [
    "## Steps, morning by morning",
    "",
    "Sound arrays followed for a year, then a leak is added that lowers the dry level by a factor; found by the third morning heard",
    "from then on (asked: 95 % at a factor of 5). Records have gaps of up to a month, in which nothing can be found: what was found",
    "within three days of the calendar, heard or not, stands beside it. Where neither the weather is noted nor the drying followed",
    "(bare), a step of five inside a wet spell often cannot be told from water. Limits were set on other seeds.",
    "",
    "| dry level falls by | arrays | found by the third morning heard | within three days of the calendar | false steps a year (asked: at most 1 %) |",
    "|---|---|---|---|---|",
    ...steps.map(stepRow),
    "",
    `| | ${steps.map(({ factor }) => `found, factor ${factor}`).join(" | ")} | arrays with a false step in the year |`,
    `|---|${"---|".repeat(steps.length + 1)}`,
    ...Object.keys(steps[0]?.by ?? {}).map((name) => shareRow(name, steps)),
    "",
  ];
}

function alarmPart({ alarms, years }: AccuracyResults["healthy"]): string[] {
  return [
    "## False alarms",
    "",
    `${alarms} of the sound arrays, ${years.toFixed(0)} array-years in all, were called anything but healthy: **${percent(alarms, years)}** a year (asked: at`,
    "most 1 %).",
    "",
  ];
}

function stepRow({ factor, arrays, found, foundInThreeDays, notAllHeard, falseArrays }: StepResult): string {
  const hits = found.reduce((sum, count) => sum + count, 0);
  const calendar = `${percent(foundInThreeDays, arrays)} (${notAllHeard} arrays not heard on each)`;
  return `| ${factor} | ${arrays} | **${percent(hits, arrays)}** | ${calendar} | ${percent(falseArrays, arrays)} |`;
}

function shareRow(name: string, steps: readonly StepResult[]): string {
  const found = steps.map(({ by }) => percent(by[name]!.found, by[name]!.of));
  const { falseArrays, of } = steps[0]!.by[name]!;
  return `| ${name} | ${found.join(" | ")} | ${falseArrays} of ${of} |`;
}
