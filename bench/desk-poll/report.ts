import type { Latency } from "./listener.ts";
import type { Measured } from "./measured.ts";

export interface CaseResult {
  readonly devices: number;
  readonly everyMs: number;
  readonly listener: Measured;
  readonly latency: Latency;
  readonly library: Measured;
}

export function reportOf(results: readonly CaseResult[], windowMs: number): string {
  const rows = results.flatMap(({ devices, everyMs, listener, library, latency }) => {
    const what = `${String(devices)} every ${String(everyMs / 1000)} s`;
    const delay = `${latency.medianMs.toFixed(1)} / ${latency.worstMs.toFixed(1)} ms of ${String(latency.faults)}`;
    return [row(what, "desk", listener, delay), row(what, "library alone", library, "-")];
  });
  return [
    `Each measured for ${String(windowMs / 1000)} s. One core is 100 %. Memory is heap and buffers after collecting. The delay runs from the request that sees an earth fault to the call of the desk: median and worst.`,
    "",
    "| devices | poller | of one core | requests a second | per request | memory before → after | delay |",
    "|---|---|---|---|---|---|---|",
    ...rows,
  ].join("\n");
}

function row(what: string, who: string, measured: Measured, delay: string): string {
  const { coreShare, requestsPerSecond, megabytesBefore, megabytesAfter } = measured;
  const microseconds = (1e6 * coreShare) / requestsPerSecond;
  return `| ${what} | ${who} | ${(100 * coreShare).toFixed(1)} % | ${requestsPerSecond.toFixed(0)} | ${microseconds.toFixed(0)} µs | ${megabytesBefore.toFixed(0)} → ${megabytesAfter.toFixed(0)} MB | ${delay} |`;
}
