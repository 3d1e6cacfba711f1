import { CircuitError, requireWithin } from "./circuit-error.ts";
import { eliminate } from "./sparse-elimination.ts";

/**
 * A network of resistors, sources and diodes, solved by modified nodal analysis (Ho, Ruehli, Brennan 1975).
 *
 * Every branch except a large resistor keeps its own current as an unknown. A string's source resistance is around one ohm and its
 * leak can be gigaohms: adding 1 S and 1 nS into one number would lose the leak, while rows of ±1 keep it.
 * Diodes are iterated by Newton's method with limited junction steps.
 *
 * Accuracy: linear networks about 1e-12 of the largest voltage; with diodes until no junction moves by more than a nanovolt per volt,
 * and a floating part by the rounding of its light current over its leak, about 1e-15 A / G (a microvolt at a gigaohm).
 * Check: checks/circuit-ngspice (another implementation, run at test time); node currents sum to zero, superposition and
 * reciprocity in network.test.ts.
 */
export type Branch = { readonly name: string; readonly from: string; readonly to: string } & BranchKind;

type BranchKind =
  | { readonly kind: "resistor"; readonly ohms: number }
  /** Drives `to` above `from` by `volts`, behind `ohms`. */
  | { readonly kind: "voltage-source"; readonly volts: number; readonly ohms: number }
  /** Pushes current through itself, in at `from` and out at `to`. */
  | { readonly kind: "current-source"; readonly amperes: number }
  /** Anode `from`, cathode `to`: I = saturationA (exp(V / slopeV) − 1). */
  | { readonly kind: "diode"; readonly saturationA: number; readonly slopeV: number };

/** The reference node; its potential is 0 V. */
export const EARTH = "earth";

export interface NetworkSolution {
  /** Potential of a node to earth [V]. */
  readonly potentialV: (node: string) => number;
  /** Current through a branch from its `from` to its `to` [A]. */
  readonly currentA: (branch: string) => number;
  /** Newton steps taken; 1 for a linear network. */
  readonly iterations: number;
}

/**
 * Leak from every node to earth [S]. It keeps a part with no path to earth solvable (its potential is then meaningless); a thousand
 * nodes of it are 1e-12 of a gigaohm leak.
 */
const NODE_GMIN_S = 1e-24;
/** Conductance across every diode [S], so that a blocked one still defines the node behind it. */
const DIODE_GMIN_S = 1e-15;
/** Below this a resistor keeps its current as an unknown. */
const SMALL_OHMS = 1e3;
/** Branch rows are scaled down so that the exact ±1 of the node rows are chosen as pivots. */
const BRANCH_ROW_SCALE = 2 ** -10;
const MAX_ITERATIONS = 500;
const SETTLED_V = 1e-9;

export function solveNetwork(branches: readonly Branch[]): NetworkSolution {
  branches.forEach(requireValidBranch);
  const layout = layOut(branches);
  const diodes = branches.flatMap((branch, index) => (branch.kind === "diode" ? [{ branch, index }] : []));
  const junctionV = new Map(diodes.map(({ branch, index }) => [index, startingVoltage(branch)]));
  for (let iteration = 1; iteration <= MAX_ITERATIONS; iteration++) {
    const unknowns = solveLinearised(branches, layout, junctionV);
    let settled = true;
    for (const { branch, index } of diodes) {
      const wanted = nodeV(layout, unknowns, branch.from) - nodeV(layout, unknowns, branch.to);
      const before = junctionV.get(index)!;
      // Junctions, not potentials: what floats as a whole follows from the last linear solution, and its rounding never settles.
      if (Math.abs(wanted - before) > SETTLED_V * (1 + Math.abs(wanted))) settled = false;
      junctionV.set(index, limitedStep(branch, wanted, before));
    }
    if (settled) return solution(branches, layout, unknowns, iteration);
  }
  throw new CircuitError(
    "CIRCUIT_NEWTON_STALLED",
    `no operating point after ${MAX_ITERATIONS} Newton steps; check for a source short-circuited through diodes only`,
  );
}

interface Layout {
  readonly size: number;
  readonly node: ReadonlyMap<string, number>;
  /** Row and column of the branch current, for branches that keep one. */
  readonly current: ReadonlyMap<number, number>;
}

type Diode = Extract<Branch, { kind: "diode" }>;

function requireValidBranch(branch: Branch): void {
  const name = `branch ${branch.name}`;
  if (branch.from === branch.to)
    throw new CircuitError(
      "CIRCUIT_PLACE_UNKNOWN",
      `${name} joins ${branch.from} to itself; allowed: two nodes`,
    );
  switch (branch.kind) {
    case "resistor":
      requireWithin(name, branch.ohms, 0, Number.MAX_VALUE, "Ω");
      break;
    case "voltage-source":
      requireWithin(name, branch.volts, -Number.MAX_VALUE, Number.MAX_VALUE, "V");
      requireWithin(name, branch.ohms, 0, Number.MAX_VALUE, "Ω");
      break;
    case "current-source":
      requireWithin(name, branch.amperes, -Number.MAX_VALUE, Number.MAX_VALUE, "A");
      break;
    case "diode":
      requireWithin(name, branch.saturationA, Number.MIN_VALUE, 1, "A");
      requireWithin(name, branch.slopeV, 1e-3, 1e4, "V");
  }
}

function keepsCurrent(branch: Branch): boolean {
  return branch.kind === "resistor" ? branch.ohms < SMALL_OHMS : branch.kind !== "current-source";
}

/** Unknowns in the order met, which follows a string along; nodes where many branches meet come last to keep rows short. */
function layOut(branches: readonly Branch[]): Layout {
  const degree = new Map<string, number>();
  for (const branch of branches)
    for (const end of [branch.from, branch.to]) degree.set(end, (degree.get(end) ?? 0) + 1);
  const node = new Map<string, number>();
  const current = new Map<number, number>();
  let size = 0;
  const take = (name: string, busy: boolean): void => {
    if (name !== EARTH && !node.has(name) && degree.get(name)! > 8 === busy) node.set(name, size++);
  };
  branches.forEach((branch, index) => {
    take(branch.from, false);
    if (keepsCurrent(branch)) current.set(index, size++);
    take(branch.to, false);
  });
  for (const branch of branches) {
    take(branch.from, true);
    take(branch.to, true);
  }
  return { size, node, current };
}

function solveLinearised(
  branches: readonly Branch[],
  layout: Layout,
  junctionV: ReadonlyMap<number, number>,
): Float64Array {
  const rows = Array.from({ length: layout.size }, () => new Float64Array(layout.size));
  const right = new Float64Array(layout.size);
  const add = (row: number | undefined, column: number | undefined, value: number): void => {
    if (row !== undefined && column !== undefined) rows[row]![column] = rows[row]![column]! + value;
  };
  for (const index of layout.node.values()) add(index, index, NODE_GMIN_S);
  branches.forEach((branch, index) => {
    const from = layout.node.get(branch.from);
    const to = layout.node.get(branch.to);
    if (branch.kind === "current-source") {
      if (from !== undefined) right[from] = right[from]! - branch.amperes;
      if (to !== undefined) right[to] = right[to]! + branch.amperes;
      return;
    }
    const current = layout.current.get(index);
    if (current === undefined) {
      const siemens = 1 / (branch as Extract<Branch, { kind: "resistor" }>).ohms;
      for (const [row, sign] of [[from, 1] as const, [to, -1] as const]) {
        add(row, from, sign * siemens);
        add(row, to, -sign * siemens);
      }
      return;
    }
    add(from, current, 1);
    add(to, current, -1);
    const row = branchRow(branch, junctionV.get(index) ?? 0);
    add(current, from, row.voltage);
    add(current, to, -row.voltage);
    add(current, current, row.current);
    right[current] = row.right;
  });
  const stuck = eliminate(rows, right);
  if (stuck !== null) throw unsolvable(branches, layout, stuck);
  return right;
}

/** One branch as voltage·(V_from − V_to) + current·I = right. */
function branchRow(branch: Branch, junctionV: number): { voltage: number; current: number; right: number } {
  const scale = BRANCH_ROW_SCALE;
  switch (branch.kind) {
    case "voltage-source":
      return { voltage: scale, current: -branch.ohms * scale, right: -branch.volts * scale };
    case "diode": {
      const exponential = branch.saturationA * Math.exp(junctionV / branch.slopeV);
      const siemens = exponential / branch.slopeV + DIODE_GMIN_S;
      const amperes = exponential - branch.saturationA + DIODE_GMIN_S * junctionV;
      const rowScale = scale / Math.max(siemens, 1e-2);
      return {
        voltage: siemens * rowScale,
        current: -rowScale,
        right: (siemens * junctionV - amperes) * rowScale,
      };
    }
    case "resistor":
      return { voltage: scale, current: -branch.ohms * scale, right: 0 };
    case "current-source":
      throw new Error("a current source has no branch row");
  }
}

function unsolvable(branches: readonly Branch[], layout: Layout, stuck: number): CircuitError {
  for (const [name, index] of layout.node)
    if (index === stuck)
      return new CircuitError(
        "CIRCUIT_NODE_FLOATING",
        `node ${name} has no defined potential; join it to something`,
      );
  const branch = [...layout.current].find(([, column]) => column === stuck);
  const name = branch === undefined ? "?" : branches[branch[0]]!.name;
  return new CircuitError(
    "CIRCUIT_SOURCES_CONFLICT",
    `branch ${name} closes a loop of ideal sources; give one of them a resistance above 0 Ω`,
  );
}

/** The voltage at which the diode's curve bends most: a good first guess for a lit cell. */
function startingVoltage(diode: Diode): number {
  return diode.slopeV * Math.log(diode.slopeV / (Math.SQRT2 * diode.saturationA));
}

/** Holds back a Newton step up the exponential, as Nagel's SPICE2 (1975) does; steps down are taken whole. */
function limitedStep(diode: Diode, wanted: number, from: number): number {
  const critical = startingVoltage(diode);
  if (wanted <= critical || Math.abs(wanted - from) <= 2 * diode.slopeV) return wanted;
  if (from <= 0) return diode.slopeV * Math.log(wanted / diode.slopeV);
  const argument = 1 + (wanted - from) / diode.slopeV;
  return argument > 0 ? from + diode.slopeV * Math.log(argument) : critical;
}

function nodeV(layout: Layout, unknowns: Float64Array, node: string): number {
  const index = layout.node.get(node);
  if (index !== undefined) return unknowns[index]!;
  if (node === EARTH) return 0;
  throw new CircuitError("CIRCUIT_PLACE_UNKNOWN", `node ${node} is not in the network`);
}

function solution(
  branches: readonly Branch[],
  layout: Layout,
  unknowns: Float64Array,
  iterations: number,
): NetworkSolution {
  const byName = new Map(branches.map((branch, index) => [branch.name, { branch, index }]));
  const potentialV = (node: string): number => nodeV(layout, unknowns, node);
  const currentA = (name: string): number => {
    const found = byName.get(name);
    if (found === undefined)
      throw new CircuitError("CIRCUIT_PLACE_UNKNOWN", `branch ${name} is not in the network`);
    const { branch, index } = found;
    if (branch.kind === "current-source") return branch.amperes;
    const current = layout.current.get(index);
    if (current !== undefined) return unknowns[current]!;
    const { ohms } = branch as Extract<Branch, { kind: "resistor" }>;
    return (potentialV(branch.from) - potentialV(branch.to)) / ohms;
  };
  return { potentialV, currentA, iterations };
}
