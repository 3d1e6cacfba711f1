import { fileURLToPath } from "node:url";
import { parentPort, Worker } from "node:worker_threads";
import { noticeFromSite, seededRandom, type Site, timeToNotice } from "@earthbell/engine";
import { inventedSite } from "./fleet.ts";

export const WORKERS = 2;
/** Onsets of every sixteenth day: enough to rank by, and every day of the week in turn. `fleetError` says what it costs. */
export const EVERY_DAYS = 16;

/** Which of the fleet one worker takes. */
export interface Share {
  readonly sites: number;
  readonly seed: number;
}

interface Ranked {
  readonly site: string;
  readonly meanHours: number;
}

function meanHoursOf(site: Site, everyDays: number): number {
  const { model } = noticeFromSite(site, { paths: site.paths, onDate: "2026-01-01" });
  const combinations = [site.paths.map(({ id }) => id)];
  return timeToNotice(model, { combinations, everyDays })[0]!.meanHours;
}

/** Largest part by which the mean hours of a site differ from those of every day of the year. */
export function fleetError(sites: number, seed: number): number {
  const { uniform } = seededRandom(seed);
  let worst = 0;
  for (let i = 0; i < sites; i++) {
    const site = inventedSite(String(i), uniform);
    worst = Math.max(worst, Math.abs(meanHoursOf(site, EVERY_DAYS) / meanHoursOf(site, 1) - 1));
  }
  return worst;
}

/** In a worker: the sites of its share, each from its record to its mean hours, all paths together. */
export function takeShare({ sites, seed }: Share): void {
  const { uniform } = seededRandom(seed);
  const port = parentPort!;
  port.once("message", () => {
    const found: Ranked[] = [];
    for (let i = 0; i < sites; i++) {
      const site = inventedSite(`${String(seed)}-${String(i)}`, uniform);
      found.push({ site: site.id, meanHours: meanHoursOf(site, EVERY_DAYS) });
    }
    port.postMessage(found);
  });
}

export interface FleetTime {
  readonly sites: number;
  readonly seconds: number;
  /** Of both workers together: does not count other programs. */
  readonly processorSeconds: number;
  readonly quickest: number;
  readonly slowest: number;
}

/** Rank a fleet by mean hours to notice, on two workers. */
export async function fleetTime(sites: number, seed: number, program: string): Promise<FleetTime> {
  const workers = Array.from({ length: WORKERS }, (_, i) => {
    const share: Share = { sites: Math.ceil(sites / WORKERS), seed: seed + i };
    return new Worker(fileURLToPath(program), { workerData: share });
  });
  const started = performance.now();
  const before = process.cpuUsage();
  const parts = await Promise.all(
    workers.map(
      (worker) =>
        new Promise<readonly Ranked[]>((resolve, reject) => {
          worker.once("message", resolve);
          worker.once("error", reject);
          worker.postMessage("go");
        }),
    ),
  );
  const ranked = parts.flat().sort((a, b) => b.meanHours - a.meanHours);
  const seconds = (performance.now() - started) / 1000;
  const { user, system } = process.cpuUsage(before);
  await Promise.all(workers.map((worker) => worker.terminate()));
  return {
    sites: ranked.length,
    seconds,
    processorSeconds: (user + system) / 1e6,
    quickest: ranked.at(-1)!.meanHours,
    slowest: ranked[0]!.meanHours,
  };
}
