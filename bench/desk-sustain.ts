/**
 * The whole desk for ten minutes: 5,000 devices at a connection of their own, each polled every 60 s over real Modbus TCP,
 * SQLite with synchronous=FULL, mail to aiosmtpd. Every minute some devices get an earth fault. Reports minute by minute the
 * processor time of the desk as a share of one core, its memory after collecting, what its store weighs, and how long it took
 * from the poll that saw a fault to the mail server's answer. Devices and mail server are processes of their own.
 * Writes bench/results/desk-sustain.{json,md}.
 *
 * Run: npm run bench -- desk-sustain [minutes, 10] [devices, 5000] [seconds between polls, 60]
 */
import { mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { seededRandom } from "@earthbell/engine";
import { machineClock as clock } from "../apps/desk/src/clock.ts";
import { inventedSites } from "../apps/desk/src/fleet/index.ts";
import type { Accept } from "../apps/desk/src/listen/accept.ts";
import { startSunspecListener } from "../apps/desk/src/listen/sunspec/sunspec-listener.ts";
import { type FleetProcess, serveFleet, startFleetProcess } from "./desk-poll/fleet-process.ts";
import { furnish, quiet } from "./desk-tell/furnished-desk.ts";
import { startMailServer } from "./desk-tell/mail-server.ts";

const FAULTS_A_MINUTE = 6;
const MINUTE = 60_000;
type Desk = Awaited<ReturnType<typeof furnish>>;

if (process.argv[2] === "fleet") await serveFleet(Number(process.argv[3]));
else {
  const [minutes = 10, devices = 5000, seconds = 60] = process.argv.slice(2).map(Number);
  await measure(minutes, devices, seconds * 1000);
}

async function measure(minutes: number, devices: number, everyMs: number): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "desk-sustain-"));
  const mail = await startMailServer();
  const fleet = await startFleetProcess(devices);
  const sites = inventedSites(devices).map(({ site }) => site);
  const desk = await furnish(folder, sites, mail.port, { atOnce: 4, deskOf: (site) => `desk-${site}` });
  try {
    const heard: Heard = { readings: 0, faults: new Map() };
    const listener = listen(fleet, everyMs, noting(desk, heard));
    while (listener.health().unheard > 0) await sleep(500);
    // Once around, so that every device has said everything that it repeats.
    await sleep(everyMs);
    const lines: Line[] = [];
    for (let minute = 1; minute <= minutes; minute++)
      lines.push(await oneMinute(minute, { fleet, sites, heard, file: join(folder, "desk.db") }));
    // Until the last fault was polled and told.
    await sleep(everyMs + 10_000);
    const waits = waitsOf(desk, heard);
    await listener.stop();
    report({ minutes, devices, everyMs, lines, ...waits });
  } finally {
    fleet.stop();
    mail.stop();
    await desk.close();
    rmSync(folder, { recursive: true, force: true });
  }
  process.exit(0);
}

function listen(fleet: FleetProcess, pollEveryMs: number, accept: Accept) {
  const random = seededRandom(2);
  const gateways = fleet.gateways.map((one) => ({ ...one, pollEveryMs, timeoutMs: 5000, restMs: 0 }));
  return startSunspecListener(
    { gateways },
    { accept, clock, random: () => random.uniform(), log: { ...quiet, warn: console.warn } },
  );
}

/** What was handed to the desk. */
interface Heard {
  readings: number;
  /** When the fault of a site was first seen. */
  readonly faults: Map<string, number>;
}

function noting(desk: Desk, heard: Heard): Accept {
  return (readings) => {
    heard.readings += readings.length;
    for (const { site, kind, value } of readings)
      if (kind === "earth-fault-bit" && value === true && !heard.faults.has(site))
        heard.faults.set(site, performance.now());
    return desk.watch.accept(readings);
  };
}

interface Line {
  readonly minute: number;
  readonly coreShare: number;
  readonly heapMb: number;
  readonly residentMb: number;
  readonly storeMb: number;
  readonly readings: number;
}

interface Around {
  readonly fleet: FleetProcess;
  readonly sites: readonly string[];
  readonly heard: Heard;
  readonly file: string;
}

async function oneMinute(minute: number, { fleet, sites, heard, file }: Around): Promise<Line> {
  const [cpu, began, before] = [process.cpuUsage(), performance.now(), heard.readings];
  for (let n = 0; n < FAULTS_A_MINUTE; n++) {
    fleet.fault(sites[(minute * FAULTS_A_MINUTE + n) % sites.length]!);
    await sleep(MINUTE / FAULTS_A_MINUTE);
  }
  const { user, system } = process.cpuUsage(cpu);
  const coreShare = (user + system) / 1000 / (performance.now() - began);
  // Collecting is no work of the desk, and is not counted as such.
  globalThis.gc?.();
  const { heapUsed, external, rss } = process.memoryUsage();
  const line = {
    minute,
    coreShare,
    heapMb: (heapUsed + external) / 1e6,
    residentMb: rss / 1e6,
    storeMb: (statSync(file).size + statSync(`${file}-wal`).size) / 1e6,
    readings: heard.readings - before,
  };
  console.log(line);
  return line;
}

/** From the poll that saw each fault to the mail server's answer [ms]. */
function waitsOf({ taken }: Desk, { faults }: Heard) {
  const waits = [...taken].flatMap(([key, at]) => {
    const from = faults.get(key.split(" ")[0]!);
    return from === undefined ? [] : [at - from];
  });
  const sorted = waits.toSorted((one, other) => one - other);
  const quantile = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
  return { faults: faults.size, mails: waits.length, medianMs: quantile(0.5), p99Ms: quantile(0.99) };
}

interface Result extends ReturnType<typeof waitsOf> {
  readonly minutes: number;
  readonly devices: number;
  readonly everyMs: number;
  readonly lines: readonly Line[];
}

function report(result: Result): void {
  const { minutes, devices, everyMs, lines, faults, mails, medianMs, p99Ms } = result;
  const about = { date: new Date().toISOString().slice(0, 10), node: process.version };
  const s = (ms: number | undefined) => (ms === undefined ? "-" : `${(ms / 1000).toFixed(2)} s`);
  const rows = lines.map(
    (line) =>
      `| ${line.minute} | ${(100 * line.coreShare).toFixed(1)} % | ${line.heapMb.toFixed(0)} MB | ${line.residentMb.toFixed(0)} MB | ${line.storeMb.toFixed(1)} MB | ${line.readings} |`,
  );
  const text = `# The desk for ${minutes} minutes

${about.date}, Node ${about.node}. Regenerate with \`npm run bench -- desk-sustain\`.

${devices} devices, each polled every ${everyMs / 1000} s; ${FAULTS_A_MINUTE} of them get an earth fault every minute. One core is 100 %. Memory is heap and buffers
after collecting, and what the process holds of the machine.

${faults} faults were seen and ${mails} mails about them taken, two people a site: median ${s(medianMs)} and 99 % ${s(p99Ms)} from the poll to the mail server's answer.

| minute | of one core | heap and buffers | resident | store | readings handed over |
|---|---|---|---|---|---|
${rows.join("\n")}
`;
  writeFileSync("bench/results/desk-sustain.json", `${JSON.stringify({ ...about, ...result }, null, 1)}\n`);
  writeFileSync("bench/results/desk-sustain.md", text);
  process.stdout.write(text);
}
