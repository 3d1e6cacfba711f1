/**
 * From a fault at a device to mail that a real server has taken, and a storm of 2,000 sites at once. Mail goes to
 * Debian's aiosmtpd over SMTP. The sites are judged meanwhile, as in any desk that has just been started. The reference in the same run is nodemailer sending as many mails of the same size by
 * itself. Writes bench/results/desk-tell.{json,md}.
 *
 * Run: npm run bench -- desk-tell [devices, 1000 when left out] [faults, 60 when left out] [sites of the storm, 2000]
 */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { monitorEventLoopDelay } from "node:perf_hooks";
import { seededRandom } from "@earthbell/engine";
import { createTransport } from "nodemailer";
import { furnish, quiet } from "./desk-tell/furnished-desk.ts";
import { startMailServer } from "./desk-tell/mail-server.ts";
import { machineClock as clock } from "../apps/desk/src/clock.ts";
import { inventedSites, startFleet } from "../apps/desk/src/fleet/index.ts";
import { startSunspecListener } from "../apps/desk/src/listen/sunspec/sunspec-listener.ts";
import type { Accept } from "../apps/desk/src/listen/accept.ts";

const [devices = 1000, faults = 60, stormSites = 2000] = process.argv.slice(2).map(Number);
const POLL_MS = 10_000;
const never = new AbortController();

function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((one, other) => one - other);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN;
}

async function until(holds: () => boolean | Promise<boolean>, mostMs: number): Promise<boolean> {
  const end = performance.now() + mostMs;
  while (performance.now() < end) {
    if (await holds()) return true;
    await clock.pause(50, never.signal);
  }
  return false;
}

async function latency(folder: string, mailPort: number) {
  const sites = inventedSites(devices);
  const desk = await furnish(
    folder,
    sites.map(({ site }) => site),
    mailPort,
    // Somebody else answers for each site: what one person is told in a flood is the storm's matter.
    { atOnce: 4, deskOf: (site) => `desk-${site}` },
  );
  const fleet = await startFleet({
    sites,
    devicesPerGateway: 25,
    seed: 1,
    shares: { faults: 0, dropouts: 0, liars: 0 },
    clock: { now: () => Date.UTC(2026, 10, 25, 1, 0) },
  });
  const heard = new Map<string, number>();
  const accept: Accept = (readings) => {
    for (const { site, kind, value } of readings)
      if (kind === "earth-fault-bit" && value === true && !heard.has(site))
        heard.set(site, performance.now());
    return desk.watch.accept(readings);
  };
  const random = seededRandom(2);
  const gateways = fleet.gateways.map((one) => ({
    ...one,
    pollEveryMs: POLL_MS,
    timeoutMs: 5000,
    restMs: 0,
  }));
  const parts = { accept, clock, random: () => random.uniform(), log: quiet };
  const listener = startSunspecListener({ gateways }, parts);
  await until(() => listener.health().unheard === 0, 120_000);
  await clock.pause(POLL_MS, never.signal);
  const spent = await raiseFaults(fleet, sites, desk.taken);
  await listener.stop();
  await fleet.stop();
  await desk.close();
  const waits = waitsOf(desk.taken, heard);
  return {
    devices,
    faults,
    told: waits.length,
    p50Ms: quantile(waits, 0.5),
    p99Ms: quantile(waits, 0.99),
    worstMs: Math.max(...waits),
    judged: sites.filter(({ site }) => desk.standing(site) !== null).length,
    ...spent,
  };
}

/** From the poll that saw each fault to the mail server's answer [ms]. */
function waitsOf(taken: ReadonlyMap<string, number>, heard: ReadonlyMap<string, number>): readonly number[] {
  return [...taken].flatMap(([key, at]) => {
    const from = heard.get(key.split(" ")[0]!);
    return from === undefined ? [] : [at - from];
  });
}

/**
 * Raises the faults one after another and waits until everybody is told.
 *
 * @returns processor time as a share of one core, and for how long the process did nothing else at a time
 */
async function raiseFaults(
  fleet: Awaited<ReturnType<typeof startFleet>>,
  sites: readonly { readonly site: string }[],
  taken: ReadonlyMap<string, number>,
) {
  const cpu = process.cpuUsage();
  const began = performance.now();
  const lag = monitorEventLoopDelay({ resolution: 5 });
  lag.enable();
  for (let n = 0; n < faults; n++) {
    const { site } = sites[Math.floor((n * devices) / faults)]!;
    fleet.fault(site, "INV1", { kind: "hard", ohms: 9000, port: 1 });
    await clock.pause(500, never.signal);
  }
  await until(() => taken.size >= 2 * faults, 60_000);
  lag.disable();
  const used = process.cpuUsage(cpu);
  return {
    coreShare: (used.user + used.system) / 1000 / (performance.now() - began),
    lagP99Ms: lag.percentile(99) / 1e6,
    lagWorstMs: lag.max / 1e6,
  };
}

async function storm(folder: string, mailPort: number) {
  const sites = Array.from({ length: stormSites }, (_, n) => `storm-${String(n)}`);
  const desk = await furnish(folder, sites, mailPort, { atOnce: 8, deskOf: () => "desk" });
  const began = performance.now();
  const at = Date.now();
  await Promise.all(
    sites.map((site, n) =>
      desk.watch.accept([
        {
          site,
          array: "A1",
          device: "INV1",
          at,
          kind: "earth-fault-bit",
          value: true,
          unit: "bit",
          quality: "good",
          source: "bench",
          key: `storm-${String(n)}`,
        },
      ]),
    ),
  );
  const storedMs = performance.now() - began;
  const covered = async (): Promise<number> => {
    const rows = desk.store.db.selectFrom("delivery").select(({ fn }) => fn.countAll<number>().as("count"));
    return (await rows.executeTakeFirstOrThrow()).count;
  };
  const told = await until(async () => (await covered()) >= 2 * stormSites, 300_000);
  const toldMs = performance.now() - began;
  const toDesk = [...desk.taken.keys()].filter((key) => key.split(" ")[1] === "desk").length;
  const messages = desk.taken.size;
  await desk.close();
  return {
    sites: stormSites,
    told,
    storedMs,
    toldMs,
    messages,
    messagesToTheDesk: toDesk,
    msAMessage: toldMs / messages,
  };
}

/** The same number of mails by the mail library alone, four at a time. */
async function reference(mailPort: number, count: number): Promise<number> {
  const transport = createTransport({
    host: "127.0.0.1",
    port: mailPort,
    pool: true,
    maxConnections: 8,
    maxMessages: Infinity,
    secure: false,
    ignoreTLS: true,
  });
  const began = performance.now();
  await Promise.all(
    Array.from({ length: count }, (_, n) =>
      transport.sendMail({
        from: "watch@example.org",
        to: `r${String(n)}@example.net`,
        subject: "Reference",
        text: "x".repeat(2500),
        html: "y".repeat(3000),
      }),
    ),
  );
  transport.close();
  return (performance.now() - began) / count;
}

const folder = mkdtempSync(join(tmpdir(), "earthbell-tell-"));
const server = await startMailServer();
try {
  const waited = await latency(mkdtempSync(join(folder, "a")), server.port);
  const stormed = await storm(mkdtempSync(join(folder, "b")), server.port);
  const rawMs = await reference(server.port, Math.min(2000, stormed.messages));
  const results = {
    date: new Date().toISOString().slice(0, 10),
    node: process.version,
    // Processes that wanted a processor meanwhile: beside others, every figure is too long.
    loadOfMachine: loadavg().map((load) => Number(load.toFixed(1))),
    waited,
    stormed,
    rawMsAMessage: rawMs,
  };
  const s = (ms: number) => `${(ms / 1000).toFixed(2)} s`;
  const report = `# From a fault to mail that was taken

Date ${results.date}, Node ${results.node}, two cores, SQLite with synchronous=FULL, mail to aiosmtpd over SMTP. Regenerate with \`npm run bench -- desk-tell\`.

## ${String(devices)} devices polled every ${String(POLL_MS / 1000)} s

From the poll that sees the fault to the mail server's answer, over ${String(waited.told)} mails of ${String(faults)} faults, two people a site: median ${s(waited.p50Ms)}, 99 % ${s(waited.p99Ms)}, worst ${s(waited.worstMs)}. The whole process, simulated devices included, used ${(100 * waited.coreShare).toFixed(0)} % of one core, and left nothing waiting for longer than ${waited.lagP99Ms.toFixed(0)} ms (99 %) and ${waited.lagWorstMs.toFixed(0)} ms (worst); ${String(waited.judged)} sites were judged meanwhile.

## ${String(stormSites)} sites at once

All ${String(stormSites)} faults were stored after ${s(stormed.storedMs)}${stormed.told ? "" : " (NOT ALL TOLD)"}; everybody was told after ${s(stormed.toldMs)} with ${String(stormed.messages)} messages, ${String(stormed.messagesToTheDesk)} of them to the one person who answers for all sites: ${stormed.msAMessage.toFixed(1)} ms a message, ${(stormed.msAMessage / rawMs).toFixed(1)} × that of the mail library sending as many by itself (${rawMs.toFixed(1)} ms).
`;
  writeFileSync("bench/results/desk-tell.json", `${JSON.stringify(results, null, 2)}\n`);
  writeFileSync("bench/results/desk-tell.md", report);
  process.stdout.write(report);
} finally {
  server.stop();
  rmSync(folder, { recursive: true, force: true });
}
