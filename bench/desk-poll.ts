/**
 * Polling at fleet size: 1,000 devices every 10 s and 5,000 every 60 s, each device at a connection of its own, over real
 * Modbus TCP on loopback. Reports the processor time of the poller as a share of one core, its memory before and after, and
 * the time from the request that sees an earth fault to the desk being called with it. The reference in the same run is a
 * Modbus library's client reading the same registers of the same devices at the same pace, and deciding nothing.
 * Writes bench/results/desk-poll.{json,md}.
 *
 * Run: npm run bench -- desk-poll [seconds of each measurement, 20 when left out]
 */
import { writeFileSync } from "node:fs";
import { serveFleet, startFleetProcess } from "./desk-poll/fleet-process.ts";
import { measureLibrary } from "./desk-poll/library.ts";
import { measureListener } from "./desk-poll/listener.ts";
import { type CaseResult, reportOf } from "./desk-poll/report.ts";

const CASES = [
  { devices: 1000, everyMs: 10_000 },
  { devices: 5000, everyMs: 60_000 },
];

if (process.argv[2] === "fleet") await serveFleet(Number(process.argv[3]));
else await measure(Number(process.argv[2] ?? "20") * 1000);

async function measure(windowMs: number): Promise<void> {
  const results: CaseResult[] = [];
  for (const one of CASES) {
    const fleet = await startFleetProcess(one.devices);
    try {
      const listener = await measureListener(fleet, one.everyMs, windowMs);
      const library = await measureLibrary(fleet.gateways, listener.reads, one.everyMs, windowMs);
      results.push({ ...one, listener: listener.measured, latency: listener.latency, library });
      console.log(reportOf(results.slice(-1), windowMs));
    } finally {
      fleet.stop();
    }
  }
  const about = { date: new Date().toISOString().slice(0, 10), node: process.version, windowMs };
  writeFileSync("bench/results/desk-poll.json", `${JSON.stringify({ ...about, results }, null, 2)}\n`);
  writeFileSync(
    "bench/results/desk-poll.md",
    `# Polling at fleet size\n\n${about.date}, Node ${about.node}. Written by \`npm run bench -- desk-poll\`.\n\n${reportOf(results, windowMs)}\n`,
  );
  process.exit(0);
}
