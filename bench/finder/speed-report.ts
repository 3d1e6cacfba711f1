import type { Timing } from "./clock.ts";
import { plate, type Panel } from "./chart.ts";
import type { ArraySize } from "./speed-visits.ts";

export interface Cost {
  readonly name: string;
  readonly size: ArraySize;
  /** Bar for a finding without its plan [ms]. */
  readonly barMs: number;
  readonly faults: readonly {
    readonly ohms: number;
    readonly verdict: string;
    readonly withoutPlan: Timing;
    readonly withPlan: Timing;
  }[];
  readonly ngspiceProcess: Timing;
  readonly ngspiceInProcess: Timing;
}
export interface Heap {
  readonly findings: number;
  /** After each fifth of the findings, collected; the first before any. */
  readonly megabytes: readonly number[];
}
export interface Growth {
  readonly name: "strings" | "modules" | "readings";
  readonly points: readonly {
    readonly count: number;
    readonly withoutPlanMs: number;
    readonly withPlanMs: number;
  }[];
}
export interface Speed {
  readonly date: string;
  readonly seed: number;
  readonly version: string;
  readonly machine: string;
  readonly reference: string;
  readonly costs: readonly Cost[];
  /** Bar for a finding with its plan [ms]. */
  readonly planBarMs: number;
  readonly heap: Heap;
  readonly growth: readonly Growth[];
}

const ms = (value: number): string => `${value.toFixed(value < 10 ? 1 : 0)} ms`;
const both = (timing: Timing): string => `${ms(timing.medianMs)} / ${ms(timing.p95Ms)}`;
const cpu = (timing: Timing): string => `${ms(timing.cpuMedianMs)} / ${ms(timing.cpuP95Ms)}`;
const ohms = (value: number): string => `${String(value / 1000)} kΩ`;
const ratio = (value: number): string => `${value.toFixed(value < 10 ? 1 : 0)} times`;

function costTable({ faults, barMs }: Cost, planBarMs: number): string {
  const rows = faults.flatMap(({ ohms: faultOhms, verdict, withoutPlan, withPlan }) =>
    [
      { what: "without its plan", timing: withoutPlan, bar: barMs },
      { what: "with its plan", timing: withPlan, bar: planBarMs },
    ].map(
      ({ what, timing, bar }) =>
        `| ${ohms(faultOhms)} (${verdict}) | ${what} | ${both(timing)} | ${cpu(timing)} | ${String(bar)} ms: ${timing.cpuMedianMs <= bar ? "met" : "not met"} |`,
    ),
  );
  return [
    "| fault | finding | wall, median / 95 % | processor, median / 95 % | bar, by the processor's median |",
    "|---|---|---|---|---|",
    ...rows,
  ].join("\n");
}

function referenceLines({ faults, ngspiceProcess, ngspiceInProcess }: Cost, reference: string): string {
  const ours = faults[1]!;
  const against = (name: string, timing: Timing): string =>
    `- ${name}, once: ${both(timing)} wall. A finding without its plan goes ${ratio(timing.medianMs / ours.withoutPlan.medianMs)} into it, with its plan ${ratio(timing.medianMs / ours.withPlan.medianMs)} (medians of wall time, the 30 kΩ fault).`;
  return [
    against(`${reference} as a process of its own`, ngspiceProcess),
    against(
      "ngspice compiled to WebAssembly (eecircuit-engine 1.8.0), in this process and started before",
      ngspiceInProcess,
    ),
  ].join("\n");
}

export function speedReport(speed: Speed): string {
  const { heap } = speed;
  const change = heap.megabytes[heap.megabytes.length - 1]! - heap.megabytes[0]!;
  return `# What a finding costs

Date ${speed.date}, version ${speed.version}, seed ${String(speed.seed)}, ${speed.machine}. Regenerate with \`npm run bench -- finder-speed\`.
The machine was shared while this ran: processor time says what the work takes, wall time what the wait was.

${speed.costs
  .map(
    (cost) => `## ${cost.name[0]!.toUpperCase()}${cost.name.slice(1)}

${costTable(cost, speed.planBarMs)}

The reference solves the circuit of one reading, every module a source and every leak a resistor; the finder answers what
fault would explain all the readings, which takes thousands of such circuits.

${referenceLines(cost, speed.reference)}`,
  )
  .join("\n\n")}

## Memory

Heap in use after a full collection, over ${String(heap.findings)} findings by turns of fifty visits: ${heap.megabytes.map((mb) => mb.toFixed(2)).join(", ")} MB. Change ${change >= 0 ? "+" : "−"}${Math.abs(change).toFixed(2)} MB.

## How it grows

Processor time, median, of the 30 kΩ fault. Strings and readings on strings of 26 modules with 30 readings (24 strings); modules on one string with 5.

${speed.growth
  .map(
    ({ name, points }) =>
      `| ${name} | ${points.map(({ count }) => String(count)).join(" | ")} |\n|---|${points.map(() => "---").join("|")}|\n| without plan | ${points.map((p) => ms(p.withoutPlanMs)).join(" | ")} |\n| with plan | ${points.map((p) => ms(p.withPlanMs)).join(" | ")} |`,
  )
  .join("\n\n")}
`;
}

export function speedPlate({ growth, date }: Speed): string {
  return plate(
    "What a finding costs as the array grows",
    [
      `Processor time of one finding (30 kΩ fault), median; with its plan in copper, without it in thin ink. Measured ${date}.`,
    ],
    growth.map(growthPanel),
  );
}

function growthPanel({ name, points }: Growth): Panel {
  const counts = points.map(({ count }) => count);
  return {
    title: `by ${name}`,
    x: {
      label: name,
      from: counts[0]! * 0.8,
      to: counts[counts.length - 1]! * 1.25,
      scale: "log",
      ticks: counts.map((count) => [count, String(count)]),
    },
    y: {
      label: "milliseconds",
      from: 0.1,
      to: 1000,
      scale: "log",
      ticks: [0.1, 1, 10, 100, 1000].map((value) => [value, String(value)]),
    },
    lines: [
      {
        label: "with plan",
        stroke: "ours",
        points: points.map(({ count, withPlanMs }) => [count, withPlanMs]),
        labelDown: -6,
      },
      {
        label: "without",
        stroke: "bound",
        points: points.map(({ count, withoutPlanMs }) => [count, withoutPlanMs]),
        labelDown: 10,
      },
    ],
  };
}
