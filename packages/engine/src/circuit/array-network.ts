import type {
  ArrayDescription,
  ArrayFault,
  ArrayInstrument,
  ArrayString,
  Pole,
  Probe,
} from "./array-description.ts";
import { CircuitError } from "./circuit-error.ts";
import { EARTH, solveNetwork, type Branch } from "./network.ts";
import { moduleBranch, stringBranches, stringNode } from "./string-branches.ts";

export interface ArraySolution {
  /** Potential to earth [V]. */
  readonly potentialV: (probe: Probe) => number;
  /** Current through a module towards the positive end [A]; `module` counts from 0 at the negative end. */
  readonly moduleCurrentA: (string: string, module: number) => number;
  /** Current of a home-run conductor at its combiner end, towards the combiner at + and from it at − [A]. */
  readonly homeRunCurrentA: (string: string, pole: Pole) => number;
  /** What a clamp around both home runs of a string shows: the current that came back another way, through earth [A]. */
  readonly stringLeakageA: (string: string) => number;
  /** Current into the functional earth [A]; 0 when there is none. */
  readonly earthingCurrentA: number;
  /** What the instrument shows: V of a voltmeter (from − to), Ω of a tester (testV / current − its series resistance). */
  readonly reading: number | null;
  readonly iterations: number;
}

/** Leads that join two poles for a shorted insulation test [Ω]. */
export const SHORTING_OHMS = 1e-3;

/**
 * Potentials and currents of a described array, instrument included: every leak, fault and mismatch acts at once.
 *
 * Strings meet at two bus poles through home runs, string fuses and blocking diodes; a string whose fuse is out floats apart there.
 * @throws CircuitError CIRCUIT_SOURCES_CONFLICT for stiff strings of unequal voltage in parallel; CIRCUIT_PLACE_UNKNOWN;
 * CIRCUIT_VALUE_OUT_OF_RANGE; CIRCUIT_NEWTON_STALLED.
 * Accuracy and check: see `solveNetwork`; checks/circuit-ngspice.
 */
export function solveArray(array: ArrayDescription, instrument?: ArrayInstrument): ArraySolution {
  const strings = new Map(array.strings.map((string) => [string.id, string]));
  requireKnownStrings(array, strings);
  const branches = arrayBranches(array, instrument);
  const solved = solveNetwork(branches);
  const string = (id: string): ArrayString => knownString(strings, id);
  const potentialV = (probe: Probe): number => solved.potentialV(probeNode(strings, probe));
  const homeRunCurrentA = (id: string, pole: Pole): number =>
    solved.currentA(terminalBranch(string(id), pole));
  return {
    potentialV,
    moduleCurrentA: (id, module) => solved.currentA(moduleBranch(string(id), module)),
    homeRunCurrentA,
    stringLeakageA: (id) => homeRunCurrentA(id, "-") - homeRunCurrentA(id, "+"),
    earthingCurrentA: array.earthing === undefined ? 0 : solved.currentA("earthing"),
    reading: instrument === undefined ? null : readingOf(instrument, potentialV, solved.currentA),
    iterations: solved.iterations,
  };
}

function arrayBranches(array: ArrayDescription, instrument?: ArrayInstrument): Branch[] {
  const strings = new Map(array.strings.map((string) => [string.id, string]));
  const branches: Branch[] = [];
  for (const string of array.strings) {
    const faults = array.faults.filter(
      (fault) => "string" in fault.place && fault.place.string === string.id,
    );
    branches.push(...homeRunBranches(string, "-", faults));
    branches.push(...stringBranches(string, faults));
    branches.push(...homeRunBranches(string, "+", faults));
  }
  array.faults.forEach(({ place, ohms }, index) => {
    if ("bus" in place)
      branches.push({
        name: `bus fault ${index}`,
        from: `bus:${place.bus}`,
        to: EARTH,
        kind: "resistor",
        ohms,
      });
  });
  if (array.earthing !== undefined) {
    const { pole, ohms } = array.earthing;
    branches.push({ name: "earthing", from: `bus:${pole}`, to: EARTH, kind: "resistor", ohms });
  }
  if (array.loadOhms !== undefined)
    branches.push({ name: "load", from: "bus:+", to: "bus:-", kind: "resistor", ohms: array.loadOhms });
  if (instrument !== undefined) branches.push(...instrumentBranches(strings, instrument));
  return branches;
}

/** The home run of one pole from the string's end to the combiner, with its faults, fuse and blocking diode. */
function homeRunBranches(string: ArrayString, pole: Pole, faults: readonly ArrayFault[]): Branch[] {
  const end =
    pole === "+" ? stringNode(string, string.modules.length, "above") : stringNode(string, 0, "below");
  const total = (pole === "+" ? string.homeRunOhms?.positive : string.homeRunOhms?.negative) ?? 0;
  const places = faults.flatMap(({ place, ohms }) =>
    "homeRun" in place && place.homeRun === pole ? [{ along: place.along ?? 0.5, ohms }] : [],
  );
  places.sort((a, b) => a.along - b.along);
  const branches: Branch[] = [];
  let from = end;
  let reached = 0;
  const runTo = (to: string, along: number): void => {
    branches.push({ name: `${to}:run`, from, to, kind: "resistor", ohms: total * (along - reached) });
    from = to;
    reached = along;
  };
  places.forEach(({ along, ohms }, index) => {
    const node = `${string.id}:home ${pole}:${index}`;
    runTo(node, along);
    branches.push({ name: `${node}:fault`, from: node, to: EARTH, kind: "resistor", ohms });
  });
  runTo(homeRunNode(string, pole), 1);
  if (!isApart(string, pole)) branches.push(...combinerBranches(string, pole));
  return branches;
}

function isApart(string: ArrayString, pole: Pole): boolean {
  return (pole === "+" ? string.fuseOut?.positive : string.fuseOut?.negative) === true;
}

function combinerBranches(string: ArrayString, pole: Pole): Branch[] {
  const name = terminalBranch(string, pole);
  const node = homeRunNode(string, pole);
  if (pole === "-") return [{ name, from: "bus:-", to: node, kind: "resistor", ohms: 0 }];
  if (string.blockingDiode === undefined)
    return [{ name, from: node, to: "bus:+", kind: "resistor", ohms: 0 }];
  return [{ name, from: node, to: "bus:+", kind: "diode", ...string.blockingDiode }];
}

function instrumentBranches(
  strings: ReadonlyMap<string, ArrayString>,
  instrument: ArrayInstrument,
): Branch[] {
  if (instrument.kind === "voltmeter") {
    const from = probeNode(strings, instrument.from);
    const to = instrument.to === "earth" ? EARTH : probeNode(strings, instrument.to);
    const meter: Branch = { name: "meter", from, to, kind: "resistor", ohms: instrument.inputOhms };
    if (instrument.shuntOhms === undefined) return [meter];
    return [meter, { name: "shunt", from, to, kind: "resistor", ohms: instrument.shuntOhms }];
  }
  const at = probeNode(strings, instrument.at);
  const { testV, seriesOhms } = instrument;
  const tester: Branch = {
    name: "tester",
    from: EARTH,
    to: at,
    kind: "voltage-source",
    volts: testV,
    ohms: seriesOhms,
  };
  if (instrument.shortedTo === undefined) return [tester];
  const to = probeNode(strings, instrument.shortedTo);
  return [tester, { name: "shorting leads", from: at, to, kind: "resistor", ohms: SHORTING_OHMS }];
}

function readingOf(
  instrument: ArrayInstrument,
  potentialV: (probe: Probe) => number,
  currentA: (branch: string) => number,
): number {
  if (instrument.kind === "tester") return instrument.testV / currentA("tester") - instrument.seriesOhms;
  const reference = instrument.to === "earth" ? 0 : potentialV(instrument.to);
  return potentialV(instrument.from) - reference;
}

function terminalBranch(string: ArrayString, pole: Pole): string {
  return `${string.id}:combiner ${pole}`;
}

function homeRunNode(string: ArrayString, pole: Pole): string {
  return `${string.id}:home ${pole}`;
}

function probeNode(strings: ReadonlyMap<string, ArrayString>, probe: Probe): string {
  if ("bus" in probe) return `bus:${probe.bus}`;
  const string = knownString(strings, probe.string);
  return "homeRun" in probe ? homeRunNode(string, probe.homeRun) : stringNode(string, probe.at, probe.side);
}

function knownString(strings: ReadonlyMap<string, ArrayString>, id: string): ArrayString {
  const string = strings.get(id);
  if (string !== undefined) return string;
  const known = [...strings.keys()].join(", ");
  throw new CircuitError("CIRCUIT_PLACE_UNKNOWN", `string ${id} is not in the array; allowed: ${known}`);
}

function requireKnownStrings(array: ArrayDescription, strings: ReadonlyMap<string, ArrayString>): void {
  for (const { place } of array.faults) if ("string" in place) knownString(strings, place.string);
}
