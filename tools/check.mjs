// `npm test`: every gate in order, one line each with its seconds, and the counts on the last line.
//
// A static gate counts as one test; the test projects count their tests. What fails is printed where it failed.
import { spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import { ensurePeers } from "./peers.mjs";

const scratch = mkdtempSync(join(tmpdir(), "earthbell-check-"));
let passed = 0;
let failed = 0;

try {
  await gate("peers: ngspice, numpy, scipy, mosquitto, pymodbus, aiosmtpd, poppler, qpdf, chromium", () =>
    ensurePeers(run),
  );
  await gate("format", () => tool("biome", "format", "."));
  await gate("lint", () => tool("eslint", ".", "--max-warnings", "0"));
  await gate("types", () => tool("tsc", "--noEmit"));
  // Two programs of their own: what runs in a browser knows its names, and nothing else does.
  await gate("types of the web app", () => tool("tsc", "--noEmit", "-p", "apps/web"));
  await gate("types of the end-to-end tests", () => tool("tsc", "--noEmit", "-p", "e2e"));
  await gate("boundaries", () =>
    tool("depcruise", "packages", "apps", "--config", ".dependency-cruiser.cjs"),
  );
  await gate("unused code", () => tool("knip"));
  await gate("index of checks is fresh", () => run("node", ["tools/checks-index.mjs", "--check"]));
  await gate("docs/errors.md is fresh", () => run("node", ["tools/errors-doc.mjs", "--check"]));
  await gate("build", () => run("node", ["tools/build.mjs"]));
  await suite("unit tests", "unit");
  await suite("outside checks", "checks");
  await suite("end to end", "e2e");
} finally {
  rmSync(scratch, { recursive: true, force: true });
}
console.log("");
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

/** One gate that either holds or not. */
async function gate(name, work) {
  const started = performance.now();
  const { status, output } = await work();
  const ok = status === 0;
  if (ok) passed += 1;
  else failed += 1;
  report(ok, name, started, "");
  if (!ok) print(output);
}

/** One project of the test runner, counted test by test from its JSON report. */
async function suite(name, project) {
  const started = performance.now();
  const file = join(scratch, `${project}.json`);
  const { status, output } = await tool(
    "vitest",
    "run",
    "--project",
    project,
    "--reporter=json",
    `--outputFile=${file}`,
  );
  const results = readResults(file);
  const counts = countTests(results);
  const silent = counts.passed + counts.failed === 0;
  // The runner can fail outside any test (an unhandled rejection, a file that cannot be loaded): that counts as one.
  const outside = silent || (status !== 0 && counts.failed === 0) ? 1 : 0;
  passed += counts.passed;
  failed += counts.failed + outside;
  const skipped = counts.skipped > 0 ? `, ${counts.skipped} skipped` : "";
  report(
    counts.failed + outside === 0,
    name,
    started,
    `${counts.passed} passed, ${counts.failed} failed${skipped}`,
  );
  for (const line of failures(results)) console.log(line);
  for (const name of secondTries(results)) console.log(`    passed on the second try only: ${name}`);
  if (silent) console.log("    no test ran");
  if (outside > 0) print(output);
}

function readResults(file) {
  try {
    return JSON.parse(readFileSync(file, "utf8")).testResults;
  } catch {
    return [];
  }
}

function countTests(files) {
  const counts = { passed: 0, failed: 0, skipped: 0 };
  for (const { assertionResults, status } of files) {
    const own = assertionResults.map((test) => test.status);
    counts.passed += own.filter((one) => one === "passed").length;
    counts.skipped += own.filter((one) => one !== "passed" && one !== "failed").length;
    const broken = own.filter((one) => one === "failed").length;
    // A file that could not be loaded has no tests to fail.
    counts.failed += broken === 0 && status === "failed" ? 1 : broken;
  }
  return counts;
}

function failures(files) {
  return files.flatMap(({ name, status, message, assertionResults }) => {
    const place = relative(process.cwd(), name);
    const broken = assertionResults.filter((test) => test.status === "failed");
    if (broken.length === 0 && status === "failed") return [`    ${place}: ${message}`];
    return broken.map((test) => `    ${place}: ${test.fullName}\n${indent(test.failureMessages.join("\n"))}`);
  });
}

/** Tests that may be tried twice and needed it: the runner leaves the first try's failure beside the pass. */
function secondTries(files) {
  return files
    .flatMap(({ assertionResults }) => assertionResults)
    .filter(({ status, failureMessages }) => status === "passed" && failureMessages.length > 0)
    .map(({ fullName }) => fullName);
}

function report(ok, name, started, detail) {
  const seconds = ((performance.now() - started) / 1000).toFixed(1).padStart(6);
  console.log(`${ok ? "ok    " : "FAILED"} ${seconds} s  ${name}${detail === "" ? "" : `: ${detail}`}`);
}

function print(output) {
  if (output.trim() !== "") console.log(indent(output.trim()));
}

function indent(text) {
  return text.replace(/^/gm, "    ");
}

function tool(name, ...args) {
  return run(join("node_modules", ".bin", name), args);
}

/** Runs a command without standard input and keeps what it prints. */
function run(command, args) {
  return new Promise((resolve) => {
    const child = spawn(command, args, {
      stdio: ["ignore", "pipe", "pipe"],
      env: { ...process.env, NO_COLOR: "1" },
    });
    const chunks = [];
    child.stdout.on("data", (chunk) => chunks.push(chunk));
    child.stderr.on("data", (chunk) => chunks.push(chunk));
    const end = (status, note = "") => resolve({ status, output: Buffer.concat(chunks).toString() + note });
    child.on("error", (error) => end(127, `${command}: ${error.message}`));
    child.on("close", (status, signal) => end(status ?? 1, signal ? `ended by ${signal}` : ""));
  });
}
