import { CircuitError, requireWithin } from "./circuit-error.ts";

/**
 * Closed forms for a floating string at open circuit.
 *
 * Without load the only currents are leaks to earth, so every module is a good voltage source and the whole string has one
 * unknown: the potential of its negative terminal. Kirchhoff's current law for the string, Σ g (e + U) = 0, then gives all below.
 *
 * Accuracy: exact for stiff sources; else off by about the string's source resistance over that of leak and instrument together.
 * Not for: an array under load, unequal strings in parallel beyond a small mismatch, blocking diodes or fuses in series with
 * a leak. `circuit/array-network.ts` covers those; checks/circuit-ngspice/limits.md states how wrong the closed forms become.
 * Check: checks/circuit-ngspice (another implementation, run at test time), checks/circuit-worked.
 */
export interface FloatingCircuit {
  readonly openCircuitV: number;
  /** Total leak conductance to earth, 1/R_iso [S]. */
  readonly leakS: number;
  /** Centroid of the leaks above the negative terminal [V]; half of openCircuitV where nothing leaks. */
  readonly centroidV: number;
}

/** One path to earth. */
export interface Leak {
  /** Potential of the leaking point above the negative terminal. */
  readonly aboveNegativeV: number;
  readonly siemens: number;
}

/** A fault to earth at a position in modules from the negative end: whole = junction, fraction = inside a module. */
export interface StringFault {
  readonly at: number;
  readonly ohms: number;
  /** Which half keeps the damage when the junction is opened there: the part below it (towards −) or above it. */
  readonly staysWith?: "below" | "above";
}

export interface StringLeakage {
  /** Voltage of each module now, from the negative end. */
  readonly moduleVocsV: readonly number[];
  /** Insulation of each module to earth; half of it acts at each of the module's two ends. */
  readonly moduleLeaksS: readonly number[];
  readonly faults: readonly StringFault[];
}

export function floatingCircuit(openCircuitV: number, leaks: Iterable<Leak>): FloatingCircuit {
  let leakS = 0;
  let moment = 0;
  for (const leak of leaks) {
    leakS += leak.siemens;
    moment += leak.siemens * leak.aboveNegativeV;
  }
  return { openCircuitV, leakS, centroidV: leakS > 0 ? moment / leakS : openCircuitV / 2 };
}

/** Potential of position `at` above the negative terminal [V]; linear inside a module. */
export function potentialAt(moduleVocsV: readonly number[], at: number): number {
  requireWithin("position", at, 0, moduleVocsV.length, "modules");
  let potential = 0;
  const whole = Math.floor(at);
  for (let module = 0; module < whole; module++) potential += moduleVocsV[module]!;
  return at > whole ? potential + (at - whole) * moduleVocsV[whole]! : potential;
}

/** The whole string as its two terminals see it. */
export function stringCircuit(string: StringLeakage): FloatingCircuit {
  return segmentCircuit(string, 0, string.moduleVocsV.length, "closed");
}

/**
 * The part between nodes `from` and `to`. With `ends` open, damage exactly at an end belongs to the segment only if it stays
 * with that half (`staysWith`, default below); closed ends are the string's own terminals and keep all of it.
 */
export function segmentCircuit(
  string: StringLeakage,
  from: number,
  to: number,
  ends: "open" | "closed" = "open",
): FloatingCircuit {
  requireNodes(string, from, to);
  const leaks: Leak[] = [];
  let potential = 0;
  for (let module = from; module < to; module++) {
    const voc = string.moduleVocsV[module]!;
    leaks.push({ aboveNegativeV: potential + voc / 2, siemens: string.moduleLeaksS[module] ?? 0 });
    potential += voc;
  }
  const base = potentialAt(string.moduleVocsV, from);
  for (const fault of string.faults) {
    requireWithin("fault resistance", fault.ohms, Number.MIN_VALUE, Number.MAX_VALUE, "Ω");
    if (!holds(fault, from, to, ends)) continue;
    leaks.push({
      aboveNegativeV: potentialAt(string.moduleVocsV, fault.at) - base,
      siemens: 1 / fault.ohms,
    });
  }
  return floatingCircuit(potential, leaks);
}

function holds(fault: StringFault, from: number, to: number, ends: "open" | "closed"): boolean {
  if (fault.at < from || fault.at > to) return false;
  if (ends === "closed") return true;
  const side = fault.staysWith ?? "below";
  if (fault.at === from) return side === "above";
  if (fault.at === to) return side === "below";
  return true;
}

function requireNodes(string: StringLeakage, from: number, to: number): void {
  const modules = string.moduleVocsV.length;
  const whole = Number.isInteger(from) && Number.isInteger(to);
  if (whole && from >= 0 && from < to && to <= modules) return;
  throw new CircuitError(
    "CIRCUIT_PLACE_UNKNOWN",
    `segment ${from} to ${to}; allowed: two whole nodes, 0 to ${modules}, the lower first`,
  );
}

/** The segments left when the connectors at `openedNodes` are apart, from the negative end. */
export function segmentsBetween(
  string: StringLeakage,
  openedNodes: readonly number[],
): readonly { readonly from: number; readonly to: number; readonly circuit: FloatingCircuit }[] {
  const modules = string.moduleVocsV.length;
  const cuts = [...new Set([0, ...openedNodes, modules])].sort((a, b) => a - b);
  return cuts.slice(1).map((to, index) => {
    const from = cuts[index]!;
    // The string's own ends keep their damage; only an end that was opened can lose it.
    const outer: StringFault[] = string.faults.map((fault) => keepAtOwnEnd(fault, modules, openedNodes));
    return { from, to, circuit: segmentCircuit({ ...string, faults: outer }, from, to) };
  });
}

function keepAtOwnEnd(fault: StringFault, modules: number, openedNodes: readonly number[]): StringFault {
  if (openedNodes.includes(fault.at)) return fault;
  if (fault.at === 0) return { ...fault, staysWith: "above" };
  return fault.at === modules ? { ...fault, staysWith: "below" } : fault;
}

/**
 * Strings joined at both ends: leaks add, centroids weigh by leak. Strings of unequal voltage meet at the mean (equal source
 * resistances share the difference equally) and each centroid scales along; good while the mismatch is far below one module.
 */
export function parallelCircuit(strings: readonly FloatingCircuit[]): FloatingCircuit {
  if (strings.length === 0)
    throw new CircuitError(
      "CIRCUIT_PLACE_UNKNOWN",
      "no string is left in the circuit; allowed: at least one",
    );
  const openCircuitV = strings.reduce((sum, string) => sum + string.openCircuitV, 0) / strings.length;
  return floatingCircuit(
    openCircuitV,
    strings.map((string) => ({
      aboveNegativeV: (string.centroidV * openCircuitV) / string.openCircuitV,
      siemens: string.leakS,
    })),
  );
}

/** Adds a path to earth at a terminal: a meter, a shunt, the earth of an inverter. */
export function withTerminalLeak(
  circuit: FloatingCircuit,
  terminal: "+" | "-",
  siemens: number,
): FloatingCircuit {
  const aboveNegativeV = terminal === "+" ? circuit.openCircuitV : 0;
  return floatingCircuit(circuit.openCircuitV, [
    { aboveNegativeV: circuit.centroidV, siemens: circuit.leakS },
    { aboveNegativeV, siemens },
  ]);
}

/** Potential of a terminal to earth with nothing connected [V]; meaningless where nothing leaks. */
export function terminalPotentialV(circuit: FloatingCircuit, terminal: "+" | "-"): number {
  return terminal === "+" ? circuit.openCircuitV - circuit.centroidV : -circuit.centroidV;
}

export interface MeterAtTerminal {
  readonly terminal: "+" | "-";
  readonly inputOhms: number;
  /** A known resistor across the meter, where one is used. */
  readonly shuntOhms?: number;
}

/** What a voltmeter from one terminal to earth shows [V], sign included; nothing else is connected. */
export function voltmeterReadsV(circuit: FloatingCircuit, meter: MeterAtTerminal): number {
  const meterS = 1 / meter.inputOhms + (meter.shuntOhms === undefined ? 0 : 1 / meter.shuntOhms);
  const free = terminalPotentialV(circuit, meter.terminal);
  return circuit.leakS === 0 ? 0 : (free * circuit.leakS) / (circuit.leakS + meterS);
}

export interface TesterAtTerminal {
  readonly terminal: "+" | "-" | "shorted";
  /** Voltage the tester forces from earth onto the terminal, sign included. */
  readonly testV: number;
  /** Resistance inside the tester, known to it and taken off what it shows. */
  readonly seriesOhms?: number;
}

/**
 * What an insulation tester that ignores the array's own voltage shows: testV / current − its own series resistance [Ω].
 * The array's voltage biases it at a lit terminal, up to a negative reading; `shorted` assumes every module near 0 V.
 * Infinity where no current flows.
 */
export function testerReads(
  circuit: FloatingCircuit,
  tester: TesterAtTerminal,
): { readonly currentA: number; readonly ohms: number } {
  requireWithin("test voltage (size)", Math.abs(tester.testV), Number.MIN_VALUE, 1e6, "V");
  const seriesOhms = tester.seriesOhms ?? 0;
  const free = tester.terminal === "shorted" ? 0 : terminalPotentialV(circuit, tester.terminal);
  const currentA = (circuit.leakS * (tester.testV - free)) / (1 + circuit.leakS * seriesOhms);
  return { currentA, ohms: tester.testV / currentA - seriesOhms };
}
