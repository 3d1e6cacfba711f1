import { spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** A circuit for ngspice: element lines whose node and element names carry the circuit's id, and what to print of it. */
export interface SpiceCircuit {
  readonly id: string;
  readonly elements: readonly string[];
  /** Expressions in ngspice's own notation: v(node), v(a)-v(b), i(vsource). */
  readonly wanted: readonly string[];
}

/**
 * The default gmin of 1e-12 S would show beside gigaohm leakage. Tolerances are tight where nothing is iterated; with diodes they
 * stay above the rounding of a floating string, or Newton's method never calls itself converged.
 */
const COMMON = ".options gmin=1e-18 pivtol=1e-18 temp=27 tnom=27 itl1=2000";
const LINEAR = `${COMMON} reltol=1e-8 abstol=1e-16 vntol=1e-10`;
const WITH_DIODES = `${COMMON} reltol=1e-6 abstol=1e-10 vntol=1e-6`;
const PROGRAM = "ngspice";
const CIRCUITS_PER_PROCESS = 30;
const PROCESSES_AT_ONCE = 2;

/** Operating points of many circuits, as printed by `ngspice -b`. @throws when ngspice is missing, fails or prints too little. */
export async function solveWithNgspice(
  circuits: readonly SpiceCircuit[],
): Promise<ReadonlyMap<string, readonly number[]>> {
  await ngspiceVersion();
  // One stubborn diode would hold up the whole deck's iteration, so circuits with diodes run alone.
  const batches = circuits.filter(hasDiode).map((circuit) => [circuit]);
  const linear = circuits.filter((circuit) => !hasDiode(circuit));
  for (let start = 0; start < linear.length; start += CIRCUITS_PER_PROCESS)
    batches.push(linear.slice(start, start + CIRCUITS_PER_PROCESS));
  const results = new Map<string, readonly number[]>();
  const worker = async (): Promise<void> => {
    for (let batch = batches.shift(); batch !== undefined; batch = batches.shift())
      await solveBatch(batch, results);
  };
  await Promise.all(Array.from({ length: PROCESSES_AT_ONCE }, worker));
  return results;
}

function hasDiode(circuit: SpiceCircuit): boolean {
  return circuit.elements.some((line) => line.startsWith("d"));
}

/** "ngspice-39" and the like. @throws with what to install when there is none: this check is never skipped. */
export async function ngspiceVersion(): Promise<string> {
  let output: string;
  try {
    output = await run(["--version"]);
  } catch (cause) {
    throw new Error(
      "ngspice is not on the PATH. This check compares with it at test time and does not pass without it. Install it (Debian: apt-get install ngspice).",
      { cause },
    );
  }
  const version = /ngspice-\S+/.exec(output)?.[0];
  if (version === undefined) throw new Error(`ngspice --version printed no version: ${output.slice(0, 200)}`);
  return version;
}

async function solveBatch(
  batch: readonly SpiceCircuit[],
  results: Map<string, readonly number[]>,
): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "earthbell-ngspice-"));
  try {
    const file = join(folder, "batch.cir");
    writeFileSync(file, deck(batch));
    const output = await run(["-b", file]);
    const printed = [...output.matchAll(/^[vi]\(\S+ = (\S+)$/gm)].map((match) => Number(match[1]));
    const wanted = batch.reduce((sum, circuit) => sum + circuit.wanted.length, 0);
    if (printed.length !== wanted || !printed.every(Number.isFinite))
      throw new Error(
        `ngspice printed ${printed.length} of ${wanted} values of ${batch.map(({ id }) => id).join(", ")}:\n${output.slice(-2000)}`,
      );
    let next = 0;
    for (const circuit of batch) {
      results.set(circuit.id, printed.slice(next, next + circuit.wanted.length));
      next += circuit.wanted.length;
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function deck(batch: readonly SpiceCircuit[]): string {
  const elements = batch.flatMap((circuit) => circuit.elements);
  const prints = batch.flatMap((circuit) => circuit.wanted.map((expression) => `print ${expression}`));
  return [
    "earthbell circuits",
    batch.some(hasDiode) ? WITH_DIODES : LINEAR,
    ...elements,
    ".control",
    "set numdgt=15",
    "op",
    ...prints,
    "quit",
    ".endc",
    ".end",
    "",
  ].join("\n");
}

function run(options: readonly string[]): Promise<string> {
  return new Promise((resolve, reject) => {
    const child = spawn(PROGRAM, options, { stdio: ["ignore", "pipe", "pipe"] });
    let output = "";
    child.stdout.on("data", (chunk: Buffer) => (output += chunk.toString()));
    child.stderr.on("data", (chunk: Buffer) => (output += chunk.toString()));
    child.on("error", reject);
    child.on("close", () => {
      resolve(output);
    });
  });
}
