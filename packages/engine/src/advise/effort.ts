import type { Path } from "../assess/site.ts";
import type { Sourced } from "../provenance.ts";
import type { AdviceAnswers } from "./answers.ts";

export type Range = readonly [least: number, most: number];
export type Parts = "none" | "low" | "medium";

/** What a path costs in parts and work, before any currency. */
export interface Effort {
  readonly parts: Parts;
  readonly partsAre: string;
  /** Hours of work until the path is proved, and visits to the site for it. */
  readonly hours: Range;
  readonly visits: Range;
  /** Hours and visits in each later year: proof, drill, addresses, batteries. */
  readonly yearlyHours: Range;
  readonly yearlyVisits: Range;
}

type Signal = Path["signal"];

const ours = {
  source: "estimate of this program for one array; replace it from your own jobs",
  tag: "design choice",
} as const;

const MESSAGE: Readonly<Record<"owners-router" | "own-line" | "mobile", Sourced<Effort>>> = {
  "owners-router": {
    value: {
      parts: "none",
      partsAre: "the inverter's own connection",
      hours: [1, 3],
      visits: [1, 1],
      yearlyHours: [0.5, 1.5],
      yearlyVisits: [0, 1],
    },
    ...ours,
  },
  "own-line": {
    value: {
      parts: "low",
      partsAre: "a data cable or radio bridge to the inverter",
      hours: [1, 4],
      visits: [1, 1],
      yearlyHours: [0.5, 1],
      yearlyVisits: [0, 1],
    },
    ...ours,
  },
  mobile: {
    value: {
      parts: "medium",
      partsAre: "a mobile modem and its running contract",
      hours: [2, 4],
      visits: [1, 1],
      yearlyHours: [0.5, 1],
      yearlyVisits: [0, 1],
    },
    ...ours,
  },
};

const ON_SITE: Readonly<Record<Exclude<Signal, "message">, Sourced<Effort>>> = {
  annunciator: {
    value: {
      parts: "medium",
      partsAre: "sounder or beacon, cable, fuse, battery-backed supply, end-of-line resistor",
      hours: [3, 8],
      visits: [1, 2],
      yearlyHours: [1, 2],
      yearlyVisits: [1, 1],
    },
    ...ours,
  },
  indicator: {
    value: {
      parts: "none",
      partsAre: "a label beside the light",
      hours: [0.5, 1.5],
      visits: [1, 1],
      yearlyHours: [0.5, 1],
      yearlyVisits: [1, 1],
    },
    ...ours,
  },
};

function effortOf(signal: Signal, { network }: AdviceAnswers): Sourced<Effort> {
  if (signal !== "message") return ON_SITE[signal];
  return MESSAGE[network === undefined || network === "none" ? "mobile" : network];
}

const ORDER: readonly Parts[] = ["none", "low", "medium"];
const both = ([a, b]: Range, [c, d]: Range): Range => [a + c, b + d];
const greater = ([a, b]: Range, [c, d]: Range): Range => [Math.max(a, c), Math.max(b, d)];

/** What several paths cost together: hours add up, visits are shared, the dearest parts decide. */
export function effortOfPlan(signals: readonly Signal[], answers: AdviceAnswers): Sourced<Effort> {
  const each = signals.map((signal) => effortOf(signal, answers));
  const value = each
    .map((one) => one.value)
    .reduce((sum, one) => ({
      parts: ORDER[Math.max(ORDER.indexOf(sum.parts), ORDER.indexOf(one.parts))]!,
      partsAre: `${sum.partsAre}; ${one.partsAre}`,
      hours: both(sum.hours, one.hours),
      visits: greater(sum.visits, one.visits),
      yearlyHours: both(sum.yearlyHours, one.yearlyHours),
      yearlyVisits: greater(sum.yearlyVisits, one.yearlyVisits),
    }));
  return { ...ours, value };
}

const YEARS = 10;
const middle = ([least, most]: Range): number => (least + most) / 2;

/** Hours of work over ten years, the middle of the ranges: what plans that notice alike are ordered by. */
export function tenYearHours({ hours, yearlyHours }: Effort): number {
  return middle(hours) + YEARS * middle(yearlyHours);
}
