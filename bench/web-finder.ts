/**
 * What a finding costs in a browser on a slow phone, and how many presses lead from the first page to a located place.
 * Writes bench/results/web-finder.{json,md}. Needs Chromium (CHROMIUM names it) and the built app in dist/web.
 * Run: npm run bench -- web-finder
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { newContext, newPage, openWeb } from "../e2e/web-browser.ts";
import { type ArraySize, visitOfSize } from "./finder/speed-visits.ts";
import { practiceRun, type PracticeRun } from "./web-finder/practice-run.ts";
import { engineScript, type Times, timesInBrowser } from "./web-finder/times-in-browser.ts";

const SEED = 20261125;
const RUNS = 60;
const SLOWED = 4;
const BAR_MS = 50;
const MOST_INTERACTIONS = 25;
const EXERCISES = [0, 1, 2];
const SIZES: readonly (readonly [string, ArraySize])[] = [
  ["one string of 20 modules, 3 readings", { strings: 1, modules: 20, readings: 3 }],
  ["one string of 20 modules, 5 readings", { strings: 1, modules: 20, readings: 5 }],
  ["one string of 20 modules, 9 readings", { strings: 1, modules: 20, readings: 9 }],
  ["four strings of 20 modules, 9 readings", { strings: 4, modules: 20, readings: 9 }],
];
const FAULTS_OHMS = [1e3, 30e3, 500e3];

interface Cost {
  readonly what: string;
  readonly faultOhms: number;
  readonly full: Times;
  readonly slowed: Times;
  readonly slowedWorker: Times;
}

const web = await openWeb();
const script = await engineScript();
const costs: Cost[] = [];
for (const [what, size] of SIZES)
  for (const faultOhms of FAULTS_OHMS) {
    const visit = visitOfSize(size, faultOhms, SEED);
    const time = (slowed: number, where: "page" | "worker"): Promise<Times> =>
      timesInBrowser(web.browser, script, { visit, runs: RUNS, slowed, in: where });
    costs.push({
      what,
      faultOhms,
      full: await time(1, "page"),
      slowed: await time(SLOWED, "page"),
      slowedWorker: await time(SLOWED, "worker"),
    });
  }
const practice: PracticeRun[] = [];
for (const exercise of EXERCISES) {
  const context = await newContext(web.browser, { viewport: { width: 390, height: 844 } });
  practice.push(await practiceRun((await newPage(context)).page, web.server.address, exercise));
  await context.close();
}
const browserVersion = web.browser.version();
await web.close();

const ms = (value: number): string => `${value.toPrecision(3)} ms`;
const row = ({ what, faultOhms, full, slowed, slowedWorker }: Cost): string => {
  const bar = what.startsWith("one") ? (slowed.medianMs <= BAR_MS ? "met" : "missed") : "none set";
  const pair = ({ medianMs, p95Ms }: Times): string => `${ms(medianMs)} / ${ms(p95Ms)}`;
  return `| ${what} | ${faultOhms / 1000} kΩ | ${pair(full)} | ${pair(slowed)} | ${ms(slowed.firstMs)} | ${pair(slowedWorker)} | ${bar} |`;
};
const report = `# What a finding costs in a browser

Chromium ${browserVersion}, seed ${SEED}, ${cpus().length} × ${cpus()[0]?.model.trim() ?? "processor"}, ${RUNS} runs each.
Regenerate with \`npm run bench -- web-finder\`. The machine may be shared while this runs, which makes every figure larger.

The finding with its plan is calculated in the page's own thread, because the browser slows that one down; whether it slows
a worker too is shown beside it. The app calculates in a worker. "First" is the first finding of a page just opened, before
the compiler has warmed up. The bar is ${BAR_MS} ms for one string, median, ${SLOWED} times slowed.

| what | fault | full speed, median / 95 % | ${SLOWED} × slowed, median / 95 % | first, slowed | worker, "slowed" | bar |
|---|---|---|---|---|---|---|
${costs.map(row).join("\n")}

## From the first page to a located place

The practice arrays, taking the step that the page proposes each time: cautions read, every precondition ticked, the array
answers. The bar is under ${MOST_INTERACTIONS} presses.

| practice | presses | steps | verdict | bar |
|---|---|---|---|---|
${practice.map(({ exercise, interactions, steps, verdict }) => `| ${exercise} | ${interactions} | ${steps} | ${verdict} | ${interactions < MOST_INTERACTIONS ? "met" : "missed"} |`).join("\n")}
`;
mkdirSync("bench/results", { recursive: true });
writeFileSync(
  "bench/results/web-finder.json",
  `${JSON.stringify({ browserVersion, costs, practice }, null, 2)}\n`,
);
writeFileSync("bench/results/web-finder.md", report);
console.log(report);
