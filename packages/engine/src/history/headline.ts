import { formatQuantity, type Ohms } from "../quantity/index.ts";
import type { HistoryFinding } from "./read-history.ts";
import type { Trouble } from "./weigh.ts";

/** What stands first about a history. A figure below the threshold comes before what the past looks like, and ends no alarm. */
export interface Headline {
  /** Whether it is below the threshold: on its newest morning, on another of the newest ninety days, or not. */
  readonly reached: "newest" | "lately" | null;
  /** That the threshold has been reached, a sentence; null where it has not, or is not known. */
  readonly below: string | null;
  /** What kind of trouble the history shows, in a few words. */
  readonly pattern: string;
}

const PATTERNS: Readonly<Record<Trouble, string>> = {
  healthy: "healthy",
  "moisture-driven": "moisture-driven fault",
  hard: "hard fault",
  progressive: "progressive decline",
  intermittent: "intermittent fault",
  sensor: "the sensor, not the array",
  "too-little-data": "too little data for a verdict",
};

/** Of an array that fell below its threshold a history without trouble is no health, and a bad sensor no excuse. */
const PATTERNS_BELOW: Readonly<Record<Trouble, string>> = {
  ...PATTERNS,
  healthy: "no pattern in the history",
  sensor: "the history points to the sensor; a test has to show it",
};

export function headlineOf(
  finding: Pick<HistoryFinding, "verdict" | "belowLately" | "to" | "newestOhms" | "threshold">,
): Headline {
  const { verdict, belowLately, to, newestOhms, threshold } = finding;
  const lastOn = belowLately?.lastOn ?? null;
  if (belowLately === null || lastOn === null || newestOhms === null || !threshold)
    return { reached: null, below: null, pattern: PATTERNS[verdict] };
  const pattern = PATTERNS_BELOW[verdict];
  if (lastOn === to)
    return { reached: "newest", below: newestWords(newestOhms, threshold.value, lastOn), pattern };
  return { reached: "lately", below: belowLatelyWords({ ...belowLately, lastOn }), pattern };
}

/** How often an array was below its threshold of late, a sentence. */
export function belowLatelyWords(lately: {
  readonly below: number;
  readonly mornings: number;
  readonly lastOn: string;
}): string {
  return `Below the threshold on ${lately.below} of the newest ${lately.mornings} mornings, last on ${lately.lastOn}.`;
}

function newestWords(ohms: number, threshold: number, on: string): string {
  const figures = `${ohmsText(ohms)}, threshold ${ohmsText(threshold)}`;
  return `Below the threshold on its newest morning, ${on} (${figures}): an alarm, whatever the history says.`;
}

/** With digits enough to tell a figure from a threshold that it just misses. */
function ohmsText(ohms: number): string {
  return formatQuantity(ohms as Ohms, "resistance", { significant: 6 });
}
