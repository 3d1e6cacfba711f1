/**
 * `earthbell assess` at fleet size: one site file of 10,000 arrays, and a batch of 10,000 sites. Writes
 * bench/results/assess.{json,md}. The reference in the same run is reading the same text with the YAML or JSON library alone.
 * Run: npm run build && npm run bench -- assess
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parse } from "yaml";

const COUNT = Number(process.env["EARTHBELL_BENCH_COUNT"] ?? "10000");
const folder = mkdtempSync(join(tmpdir(), "earthbell-assess-"));

interface Run {
  readonly name: string;
  readonly megabytes: number;
  readonly seconds: number;
  readonly peakMegabytes: number;
  readonly millisecondsEach: number;
  readonly referenceSeconds: number;
  readonly reference: string;
}

const head = `format: earthbell.site/1
site:
  id: long-field
  place: {country: AU, region: VIC, timezone: Australia/Melbourne, latitude: -37.1, longitude: 143.9}
  lowestTemperature: -3 °C
modules:
  - {id: M1, technology: crystalline-silicon, pmax: 410 W, voc: 49.5 V, isc: 10.9 A, vocTemperatureCoefficient: -0.27 %/K, area: 1.95 m2, substrings: 3}
inverters:
  - {id: INV1, ratedPower: 10 kVA, separation: none, insulationCheck: {threshold: 40 kΩ, at: [start]}, residualMonitor: true}
arrays:
`;

function arrayLine(index: number): string {
  return `  - {id: A${String(index)}, inverter: INV1, module: M1, installed: 2019-03-14, earthing: floating, mounting: building, strings: [{id: S1, modules: 14}, {id: S2, modules: 14}]}\n`;
}

function timed(
  name: string,
  args: readonly string[],
  file: string,
  reference: string,
  read: (text: string) => unknown,
): Run {
  const peakFile = join(folder, "peak");
  // The child reports its own peak, so that nothing but Node is needed to measure it.
  const hook = join(folder, "peak.mjs");
  writeFileSync(
    hook,
    `import { writeFileSync } from "node:fs"; process.on("exit", () => writeFileSync(${JSON.stringify(peakFile)}, String(process.resourceUsage().maxRSS)));`,
  );
  const started = performance.now();
  const run = spawnSync(process.execPath, ["--import", hook, "dist/earthbell.js", ...args, file], {
    maxBuffer: 2 ** 30,
    encoding: "utf8",
  });
  const seconds = (performance.now() - started) / 1000;
  if (run.status !== 0) throw new Error(`${name}: status ${String(run.status)}: ${run.stderr.slice(0, 500)}`);
  const text = readFileSync(file, "utf8");
  const before = performance.now();
  read(text);
  const referenceSeconds = (performance.now() - before) / 1000;
  const peakMegabytes = Number(readFileSync(peakFile, "utf8")) / 1024;
  return {
    name,
    megabytes: statSync(file).size / 2 ** 20,
    seconds,
    peakMegabytes,
    millisecondsEach: (1000 * seconds) / COUNT,
    referenceSeconds,
    reference,
  };
}

const oneFile = join(folder, "field.yaml");
writeFileSync(oneFile, head + Array.from({ length: COUNT }, (_, i) => arrayLine(i)).join(""));
const batchFile = join(folder, "sites.jsonl");
const site = parse(head + arrayLine(0)) as { site: { id: string } };
writeFileSync(
  batchFile,
  Array.from(
    { length: COUNT },
    (_, i) => `${JSON.stringify({ ...site, site: { ...site.site, id: `site-${String(i)}` } })}\n`,
  ).join(""),
);

const runs = [
  timed(
    `one YAML site file, ${String(COUNT)} arrays`,
    ["assess", "--json"],
    oneFile,
    "the YAML library reading the same text",
    (text) => parse(text) as unknown,
  ),
  timed(
    `batch of ${String(COUNT)} sites, one a line`,
    ["assess", "--json", "--batch"],
    batchFile,
    "JSON.parse of the same lines",
    (text) =>
      text
        .split("\n")
        .filter(Boolean)
        .map((line) => JSON.parse(line) as unknown),
  ),
];
rmSync(folder, { recursive: true });
const results = { date: new Date().toISOString().slice(0, 10), node: process.version, count: COUNT, runs };
const rows = runs.map(
  (run) =>
    `| ${run.name} | ${run.megabytes.toFixed(1)} MB | ${run.seconds.toFixed(1)} s | ${run.millisecondsEach.toFixed(2)} ms | ${run.peakMegabytes.toFixed(0)} MB | ${(run.seconds / run.referenceSeconds).toFixed(1)} × ${run.reference} |`,
);
const report = `# Assessing a fleet\n\nDate ${results.date}, Node ${results.node}. Regenerate with \`npm run build && npm run bench -- assess\`.\n\n| run | input | whole process | each | peak memory | against |\n|---|---|---|---|---|---|\n${rows.join("\n")}\n`;
writeFileSync("bench/results/assess.json", `${JSON.stringify(results, null, 2)}\n`);
writeFileSync("bench/results/assess.md", report);
process.stdout.write(report);
