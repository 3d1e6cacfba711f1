/**
 * Every place of the web app under Lighthouse's phone preset, at a desk of the demonstration, signed in, median of three runs by
 * performance. Lighthouse is installed into a temporary folder. Writes bench/results/lighthouse.{json,md}. Needs Chromium
 * (CHROMIUM names it) and npm.
 * Run on a machine that does nothing else: npm run bench -- lighthouse [first part of an address …]
 */
import { chromium } from "@playwright/test";
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { type DeskProcess, startDesk } from "../e2e/desk-process.ts";
import { BROWSER } from "../e2e/web-browser.ts";
import {
  CATEGORIES,
  installLighthouse,
  LIGHTHOUSE_VERSION,
  type PageRun,
  runLighthouse,
} from "./lighthouse/installed.ts";
import { signIn } from "./web/sign-in.ts";

const RUNS = 3;
/** Asked of every category. */
const LEAST = 95;

interface Place {
  readonly name: string;
  readonly path: string;
}

interface Result extends Place {
  readonly median: PageRun;
  readonly performance: readonly number[];
}

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
  const bound = server.address();
  await new Promise((closed) => server.close(closed));
  if (bound === null || typeof bound === "string") throw new Error("no port is free");
  return bound.port;
}

async function placesOf(desk: DeskProcess): Promise<readonly Place[]> {
  const opened = await desk.openCase("hall");
  const fixed = ["register", "cases", "papers", "drift", "messages", "people", "settings", "audit"];
  const open = ["advise", "learn", "rules", "visits", "sites"];
  return [
    { name: "now", path: "/" },
    ...[...fixed, ...open].map((name) => ({ name, path: `/${name}` })),
    { name: "site", path: "/register/hall" },
    { name: "case", path: `/cases/${opened.id}` },
    { name: "papers of a site", path: "/papers/hall" },
  ];
}

/** The auditor now and then fails to record a load at all; such a run has no figures, so it is begun again. */
async function unbroken(work: () => Promise<PageRun>): Promise<PageRun> {
  for (let broken = 0; broken < 2; broken++)
    try {
      return await work();
    } catch (error) {
      if (!String(error).includes("NO_NAVSTART")) throw error;
    }
  return work();
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 1]!;
}

function medianOf(runs: readonly PageRun[]): PageRun {
  const sorted = runs.toSorted((a, b) => a.scores.performance - b.scores.performance);
  return sorted[sorted.length >> 1]!;
}

execFileSync(process.execPath, ["tools/build.mjs"], { stdio: "inherit" });
const folder = mkdtempSync(join(tmpdir(), "earthbell-lighthouse-"));
const only = process.argv.slice(2);
const results: Result[] = [];
try {
  await installLighthouse(folder);
  const desk = await startDesk();
  const port = await freePort();
  const context = await chromium.launchPersistentContext(join(folder, "browser"), {
    ...BROWSER,
    args: [...BROWSER.args, `--remote-debugging-port=${String(port)}`],
  });
  try {
    const places = (await placesOf(desk)).filter(
      ({ name }) => only.length === 0 || only.some((word) => name.startsWith(word)),
    );
    const measure = async (place: Place): Promise<void> => {
      const runs: PageRun[] = [];
      for (let run = 0; run < RUNS; run++)
        runs.push(await unbroken(() => runLighthouse(folder, desk.url + place.path, port)));
      const result = {
        ...place,
        median: medianOf(runs),
        performance: runs.map(({ scores }) => scores.performance),
      };
      results.push(result);
      console.log(row(result));
    };
    // Nobody is signed in yet.
    if (only.length === 0 || only.includes("sign-in")) await measure({ name: "sign-in", path: "/sign-in" });
    await signIn(await context.newPage(), desk);
    for (const place of places) await measure(place);
  } finally {
    await context.close();
    await desk.stop();
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
const about = {
  date: new Date().toISOString().slice(0, 10),
  lighthouse: LIGHTHOUSE_VERSION,
  runs: RUNS,
  load: loadavg()[0]!,
  pace: median(results.map((result) => result.median.pace)),
};
if (only.length === 0) {
  const kept = results.map(({ path, ...rest }) => ({
    ...rest,
    path: path.replace(/^\/cases\/.+/u, "/cases/…"),
  }));
  writeFileSync("bench/results/lighthouse.json", `${JSON.stringify({ ...about, results: kept }, null, 2)}\n`);
  writeFileSync("bench/results/lighthouse.md", reportOf());
}

function row({ name, median, performance }: Result): string {
  const { scores, firstPaintMs, largestPaintMs, blockedMs, shift, below } = median;
  const holds = CATEGORIES.every((category) => scores[category] >= LEAST);
  const times = [firstPaintMs, largestPaintMs, blockedMs].map((ms) => `${ms.toFixed(0)} ms`).join(" | ");
  const marks = CATEGORIES.map((category) => scores[category]).join(" | ");
  return `| ${name} | ${marks} | ${performance.join(", ")} | ${times} | ${shift.toFixed(3)} | ${below.join(", ")} | ${holds ? "holds" : "does not hold"} |`;
}

function reportOf(): string {
  return `# The places of the web app under Lighthouse

Date ${about.date}, Lighthouse ${about.lighthouse} with its phone preset, median of ${about.runs} by performance, load of the machine at the end
${about.load.toFixed(1)}, pace of the machine by the auditor's own measure ${about.pace.toFixed(0)}. Regenerate with \`npm run bench -- lighthouse\`. Asked is ${LEAST} in every category. A slower machine, or another load on it, lowers performance.

| place | performance | accessibility | best practices | performance of each run | first paint | largest paint | blocked | shift | below their best | |
|---|---|---|---|---|---|---|---|---|---|---|
${results.map(row).join("\n")}
`;
}
