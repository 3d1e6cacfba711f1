import { execFile } from "node:child_process";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";

const run = promisify(execFile);

/** The version that was looked at; another weighs its figures otherwise. */
export const LIGHTHOUSE_VERSION = "12.8.2";

export const CATEGORIES = ["performance", "accessibility", "best-practices"] as const;
export type Category = (typeof CATEGORIES)[number];

/** What one run says of one page; times in milliseconds. */
export interface PageRun {
  readonly scores: Readonly<Record<Category, number>>;
  readonly firstPaintMs: number;
  readonly largestPaintMs: number;
  readonly blockedMs: number;
  readonly shift: number;
  /** The auditor's own measure of this machine's pace; what it takes for a phone is four times slower than that. */
  readonly pace: number;
  /** Audits below their best mark, so that a reader sees what to mend. */
  readonly below: readonly string[];
}

interface Audit {
  readonly score: number | null;
  readonly numericValue?: number;
}

interface Said {
  readonly categories: Readonly<
    Record<
      string,
      { readonly score: number | null; readonly auditRefs: readonly { id: string; weight: number }[] }
    >
  >;
  readonly audits: Readonly<Record<string, Audit>>;
  readonly environment: { readonly benchmarkIndex: number };
}

/** Puts the auditor into a folder of its own: the project does not depend on it. */
export async function installLighthouse(folder: string): Promise<void> {
  const packages = ["install", "--no-save", "--no-audit", "--no-fund", "--prefix", folder];
  await run("npm", [...packages, `lighthouse@${LIGHTHOUSE_VERSION}`], { cwd: folder });
}

/** One run with the auditor's own phone preset, in a browser that is already signed in at this port. */
export async function runLighthouse(folder: string, url: string, port: number): Promise<PageRun> {
  const report = join(folder, "report.json");
  await run(
    process.execPath,
    [
      join(folder, "node_modules/lighthouse/cli/index.js"),
      url,
      ...[`--port=${String(port)}`, `--only-categories=${CATEGORIES.join(",")}`],
      ...["--output=json", `--output-path=${report}`, "--quiet", "--enable-error-reporting=false"],
    ],
    { cwd: folder },
  );
  return pageRun(JSON.parse(await readFile(report, "utf8")) as Said);
}

function pageRun({ categories, audits, environment }: Said): PageRun {
  const score = (name: Category): number => Math.round(100 * (categories[name]?.score ?? Number.NaN));
  const value = (id: string): number => audits[id]?.numericValue ?? Number.NaN;
  const weighed = CATEGORIES.flatMap((name) => categories[name]?.auditRefs ?? []).filter(
    ({ weight }) => weight > 0,
  );
  return {
    scores: {
      performance: score("performance"),
      accessibility: score("accessibility"),
      "best-practices": score("best-practices"),
    },
    firstPaintMs: value("first-contentful-paint"),
    largestPaintMs: value("largest-contentful-paint"),
    blockedMs: value("total-blocking-time"),
    shift: value("cumulative-layout-shift"),
    pace: environment.benchmarkIndex,
    below: weighed
      .filter(({ id }) => (audits[id]?.score ?? 1) < 0.9)
      .map(({ id }) => id)
      .toSorted(),
  };
}
