import type { Timing } from "../finder/clock.ts";
import type { DemoTime } from "./demo-sites.ts";
import { EVERY_DAYS, type FleetTime, WORKERS } from "./fleet-time.ts";
import type { Comparison } from "./simulation.ts";

export interface NoticeResults {
  readonly date: string;
  readonly version: string;
  readonly machine: string;
  readonly seed: number;
  /** Load of the machine when it began and when it ended: other programs. */
  readonly load: readonly [number, number];
  readonly yearBarMs: number;
  readonly fleetBarSeconds: number;
  readonly comparisons: readonly Comparison[];
  readonly demo: readonly DemoTime[];
  readonly fleet: FleetTime;
  /** Sites compared with every day of the year, and the largest part by which their mean hours differ. */
  readonly fleetError: { readonly sites: number; readonly worst: number };
}

const ms = (value: number): string => `${value.toFixed(value < 10 ? 1 : 0)} ms`;
const cpu = ({ cpuMedianMs, cpuP95Ms }: Timing): string => `${ms(cpuMedianMs)} / ${ms(cpuP95Ms)}`;
const met = (is: boolean): string => (is ? "met" : "not met");
const small = (value: number): string => value.toFixed(5);
const count = (value: number): string => value.toLocaleString("en-US");

function yearTable({ comparisons, yearBarMs }: NoticeResults): string {
  const rows = comparisons.map(
    ({ detector, exact }) =>
      `| ${detector} | ${cpu(exact)} | ${ms(exact.medianMs)} | ${String(yearBarMs)} ms: ${met(exact.cpuMedianMs <= yearBarMs)} |`,
  );
  return [
    "| detector | processor, median / 95 % | wall, median | bar, by the processor's median |",
    "|---|---|---|---|",
    ...rows,
  ].join("\n");
}

function ratioTable({ comparisons }: NoticeResults): string {
  const rows = comparisons.map(
    ({ detector, differenceRms, samplingRms, errorRms, equalFaults, equalSeconds, exact, ...more }) =>
      `| ${detector} | ${small(differenceRms)} | ${small(samplingRms)} | ${errorRms > samplingRms ? "" : "at most "}${small(errorRms)} | ${count(equalFaults)} | ${equalSeconds.toFixed(2)} s | ${ms(exact.cpuMedianMs)} | **${more.ratio.toFixed(0)}** | ${more.ratioWithCalendar.toFixed(0)} |`,
  );
  return [
    "| detector | difference | reference's own error | error of the exact answer | faults for the same error | simulation | exact | times as long | with its calendar |",
    "|---|---|---|---|---|---|---|---|---|",
    ...rows,
  ].join("\n");
}

function demoTable({ demo, yearBarMs }: NoticeResults): string {
  const rows = demo.map(
    ({ site, paths, people, year, report }) =>
      `| ${site} | ${String(paths)} | ${String(people)} | ${cpu(year)} | ${met(year.cpuMedianMs <= yearBarMs)} | ${cpu(report)} |`,
  );
  return [
    `| site | paths | readers | a year of onsets | ${String(yearBarMs)} ms | whole report |`,
    "|---|---|---|---|---|---|",
    ...rows,
  ].join("\n");
}

function fleetLines({ fleet, fleetBarSeconds, fleetError, load }: NoticeResults): string {
  const alone = fleet.processorSeconds / WORKERS;
  return `${count(fleet.sites)} sites of three paths and four people, from their records to a list ranked by mean hours, onsets of every ${String(EVERY_DAYS)}th day, ${String(WORKERS)} workers: **${fleet.seconds.toFixed(1)} s** by the clock, ${fleet.processorSeconds.toFixed(1)} s of processor time, ${((1000 * fleet.processorSeconds) / fleet.sites).toFixed(1)} ms each. Two cores with nothing else to do take **${alone.toFixed(0)} s** (bar ${String(fleetBarSeconds)} s: ${met(alone <= fleetBarSeconds)}); the load of the machine was ${load.map((one) => one.toFixed(1)).join(" before and ")} after. Means from ${fleet.quickest.toFixed(1)} h to ${fleet.slowest.toFixed(1)} h; of ${String(fleetError.sites)} sites none differs by more than ${(100 * fleetError.worst).toFixed(1)} % from its mean over every day of the year.`;
}

export function noticeBenchReport(results: NoticeResults): string {
  const { simulation, referenceFaults } = results.comparisons[0]!;
  return `# What a time to notice costs

Date ${results.date}, version ${results.version}, seed ${String(results.seed)}, ${results.machine}. Regenerate with \`npm run bench -- notice\`.
The machine was shared while this ran: processor time says what the work takes, wall time what the wait was.

## A year of onsets: three paths, four people

The site "three paths, four people" of checks/notice-monte-carlo, each path and all together, half the days of the year
(the default). "Residual monitor sees half" mixes faults seen at once with faults that wait for the start.

${yearTable(results)}

## Against a simulation at equal error

The simulation is the one of checks/notice-monte-carlo (numpy ${simulation.numpy}, ephem ${simulation.ephem}, Python ${simulation.python}), vectorised over
faults, on the same site in the same run. Reference: ${count(referenceFaults)} of its faults. Errors are root mean squares over all curves and
lags; the exact answer's is its difference from the reference with the reference's own sampling error taken out, and where
that leaves less than the reference's own error, that error stands, so the ratio is then too small rather than too large.
The simulation needs so many faults that its sampling error is as large; its time for them is in proportion to a round of
500,000, without its calendar and sunrises (${simulation.fixedSeconds.toFixed(2)} s), which do not grow with the faults.

${ratioTable(results)}

## The sites of the demo

Processor time, median / 95 %. The whole report works the year out again for each cause of delay and each single change,
on fewer days of the year; it has no bar of its own.

${demoTable(results)}

## A fleet

${fleetLines(results)}
`;
}
