import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Simulation } from "eecircuit-engine";
import { METER_OHMS, MODULE_LEAK_OHMS, MODULE_VOLTS, type ArraySize } from "./speed-visits.ts";

/** The named reference: a circuit simulator of the SPICE family on the array of one reading, every source and leak an element. */
function netlistOf({ strings, modules }: ArraySize, faultOhms: number): string[] {
  const lines = ["earthbell array", ".options gmin=1e-18 reltol=1e-8 abstol=1e-16 vntol=1e-10"];
  const node = (string: number, k: number): string =>
    k === 0 ? "busn" : k === modules ? "busp" : `s${String(string)}n${String(k)}`;
  for (let s = 0; s < strings; s++)
    for (let k = 0; k <= modules; k++) {
      const name = `${String(s)}x${String(k)}`;
      // Half of a module's leak at each of its ends.
      const leak = MODULE_LEAK_OHMS * (k === 0 || k === modules ? 2 : 1);
      lines.push(`rl${name} ${node(s, k)} 0 ${String(leak)}`);
      if (k === modules) continue;
      lines.push(`v${name} t${name} ${node(s, k)} dc ${String(MODULE_VOLTS)}`);
      lines.push(`rs${name} ${node(s, k + 1)} t${name} 0.6`);
    }
  const faulty = Math.floor(0.6 * strings);
  lines.push(`rf ${node(faulty, Math.round(0.3 * modules))} 0 ${String(faultOhms)}`);
  lines.push(`rm busn 0 ${String(METER_OHMS)}`);
  return lines;
}

/** One run of ngspice as a process; gives the voltage it printed. @throws when it is missing or prints none. */
export function ngspiceOnce(size: ArraySize, faultOhms: number): () => number {
  const lines = [
    ...netlistOf(size, faultOhms),
    ".control",
    "op",
    "print v(busn)",
    "quit",
    ".endc",
    ".end",
    "",
  ];
  return () => {
    const folder = mkdtempSync(join(tmpdir(), "earthbell-speed-"));
    try {
      const file = join(folder, "array.cir");
      writeFileSync(file, lines.join("\n"));
      const { stdout } = spawnSync("ngspice", ["-b", file], { encoding: "utf8" });
      const printed = /v\(busn\) = (\S+)/.exec(stdout)?.[1];
      if (printed === undefined)
        throw new Error("ngspice printed no voltage; install it (Debian: apt-get install ngspice)");
      return Number(printed);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  };
}

export function ngspiceVersion(): string {
  const { stdout } = spawnSync("ngspice", ["--version"], { encoding: "utf8" });
  return /ngspice-\S+/.exec(stdout)?.[0] ?? "ngspice";
}

/** ngspice compiled to WebAssembly, running in this process and started already. */
export async function ngspiceInProcess(): Promise<(size: ArraySize, ohms: number) => () => Promise<number>> {
  const simulator = new Simulation();
  await simulator.start();
  return (size, faultOhms) => {
    const netlist = [...netlistOf(size, faultOhms), ".op", ".end"].join("\n");
    return async () => {
      simulator.setNetList(netlist);
      const { variableNames, data } = await simulator.runSim();
      const voltage = data[variableNames.indexOf("v(busn)")]?.values[0];
      if (typeof voltage !== "number") throw new Error("the simulator in this process gave no voltage");
      return voltage;
    };
  };
}
