/**
 * Owner's notices at fleet size: 1,000 site files, one PDF each, by the shipped command, run by run with the processor time of
 * all its threads, the load of the machine and the peak of memory. Writes bench/results/papers.json. The reference in the same run is the same work as HTML, without the compiler.
 * Run: npm run build && npm run bench -- papers
 */
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { join } from "node:path";

const COUNTS = [100, Number(process.env["EARTHBELL_BENCH_COUNT"] ?? "1000")];
const folder = mkdtempSync(join(tmpdir(), "earthbell-papers-"));
const site = readFileSync("demo/sites/creamery.yaml", "utf8");
const hook = join(folder, "peak.mjs");
writeFileSync(
  hook,
  `import { writeFileSync } from "node:fs"; import { isMainThread } from "node:worker_threads"; if (isMainThread) process.on("exit", () => writeFileSync(${JSON.stringify(join(folder, "used"))}, JSON.stringify(process.resourceUsage())));`,
);

function run(format: "pdf" | "html", count: number) {
  const sites = Array.from({ length: count }, (_, index) => {
    const file = join(folder, `site-${index}.yaml`);
    writeFileSync(file, site.replace("id: creamery", `id: creamery-${index}`));
    return file;
  });
  const out = join(folder, `${format}-${count}`);
  mkdirSync(out);
  const words = ["paper", "owner-notice", ...sites, "--out", out, "--format", format, "--on", "2026-11-25"];
  const before = process.hrtime.bigint();
  const { status } = spawnSync(process.execPath, ["--import", hook, "dist/earthbell.js", ...words], {
    stdio: ["ignore", "ignore", "inherit"],
  });
  const seconds = Number(process.hrtime.bigint() - before) / 1e9;
  if (status !== 0) throw new Error(`the command ended with ${status ?? "a signal"}`);
  const sizes = readdirSync(out)
    .filter((name) => name.endsWith(`.${format}`))
    .map((name) => statSync(join(out, name)).size);
  if (sizes.length !== count) throw new Error(`${count} notices were asked for and ${sizes.length} made`);
  const used = JSON.parse(readFileSync(join(folder, "used"), "utf8")) as NodeJS.ResourceUsage;
  const peakMegabytes = Math.round(used.maxRSS / 1024);
  const processorSeconds = (used.userCPUTime + used.systemCPUTime) / 1e6;
  return {
    format,
    count,
    seconds,
    processorSeconds,
    load: loadavg()[0],
    peakMegabytes,
    largestKilobytes: Math.max(...sizes) / 1000,
  };
}

try {
  const runs = COUNTS.flatMap((count) => [run("html", count), run("pdf", count)]);
  writeFileSync("bench/results/papers.json", `${JSON.stringify(runs, null, 2)}\n`);
  console.log(JSON.stringify(runs, null, 2));
} finally {
  rmSync(folder, { recursive: true });
}
