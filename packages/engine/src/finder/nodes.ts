import { soundLeakage } from "./leakage-clamp.ts";
import type { Measured, Problem } from "./problem.ts";
import { FAULT_RESISTANCE_OHMS } from "./priors.ts";

/**
 * Quadrature nodes. The likelihood is a needle in the total leak conductance and, for a soft fault, a needle in the
 * healthy leakage's share of it; so nodes follow the needles (from each configuration's own best fit) on top of a
 * coarse grid over the prior.
 */
export interface Nodes {
  readonly ln: readonly number[];
  /** ln of trapezoid weight × prior density. */
  readonly lnWeight: readonly number[];
}

const CLUSTER = [-4, -3.2, -2.4, -1.6, -0.8, 0, 0.8, 1.6, 2.4, 3.2, 4];
/** A likelihood wider than this in ln G is followed well enough by the coarse grid. */
const NARROW = 0.5;
/** Below this width the likelihood beyond the cluster is nil for every purpose. */
const NEEDLE = 0.15;

/** Nodes over ln g, g the healthy leakage of one module [S]. `contains` marks the configurations that hold a fault. */
export function healthyNodes(
  problem: Problem,
  contains: Uint8Array | null,
  leakageOhms = problem.leakageOhms,
): Nodes {
  const low = -Math.log(leakageOhms.max);
  const high = -Math.log(leakageOhms.min);
  const faulty = problem.measured.filter((_, c) => contains?.[c] === 1);
  const clean = problem.measured.filter((_, c) => contains?.[c] !== 1);
  const nodes: number[] = [];
  for (let ln = low; ln < high; ln += healthyStep(Math.exp(ln), faulty)) nodes.push(ln);
  nodes.push(high);
  for (const measured of narrowest(clean)) {
    const width = Math.hypot(measured.table.best.sigma, problem.leakageSpread);
    const centre = measured.table.best.lnG - Math.log(measured.configuration.moduleCount);
    for (const z of CLUSTER) nodes.push(centre + z * width);
  }
  for (const needle of sharpest(problem.clamps))
    for (const z of CLUSTER) nodes.push(needle.lnG + z * needle.sigma);
  return trapezoid([...Float64Array.from(nodes).sort()], low, high);
}

/** A step that moves no configuration's centroid by more than about a sigma. */
function healthyStep(g: number, faulty: readonly Measured[]): number {
  let step = 0.4;
  for (const { table, configuration, mismatchVariance } of faulty) {
    const healthy = g * configuration.moduleCount;
    if (healthy > 1.5 * Math.exp(table.best.lnG + 5 * Math.min(1, table.best.sigma))) continue;
    const sd = Math.sqrt(table.variance[table.best.index]! + mismatchVariance);
    step = Math.min(step, (2.4 * sd * Math.exp(table.lowestLnG)) / healthy);
  }
  return Math.max(step, 0.004);
}

/**
 * Nodes over ln Gf, the conductance of the fault [S], for a held healthy leakage g. Where a configuration that holds the
 * fault has a needle, the nodes lie on it alone: elsewhere the likelihood is nil.
 */
export function faultNodes(problem: Problem, contains: Uint8Array, coarseStep = 0.5): (g: number) => Nodes {
  const low = -Math.log(FAULT_RESISTANCE_OHMS.max);
  const high = -Math.log(FAULT_RESISTANCE_OHMS.min);
  const needle = needleOf(problem, contains);
  const count = Math.ceil((high - low) / coarseStep);
  const coarse = Array.from({ length: count + 1 }, (_, i) => low + (i * (high - low)) / count);
  return (g) => {
    const nodes = needle === null ? [] : onNeedle(problem, needle, g, low, high);
    const isEnough = needle !== null && needle.table.best.sigma <= NEEDLE && nodes.length > 0;
    return trapezoid(isEnough ? nodes : merged(nodes, coarse), low, high);
  };
}

function onNeedle(problem: Problem, needle: Measured, g: number, low: number, high: number): number[] {
  const healthy = g * needle.configuration.moduleCount;
  const total = Math.exp(needle.table.best.lnG);
  const width = Math.hypot(
    needle.table.best.sigma,
    (problem.leakageSpread * Math.min(healthy, total)) / total,
  );
  const nodes: number[] = [];
  for (const z of CLUSTER) {
    const fault = total * Math.exp(z * width) - healthy;
    if (fault > 0 && Math.log(fault) >= low && Math.log(fault) <= high) nodes.push(Math.log(fault));
  }
  return nodes;
}

/** The configuration that holds the fault and tells its total leak best; null where none has a needle. */
export function needleOf(problem: Problem, contains: Uint8Array): Measured | null {
  return narrowest(problem.measured.filter((_, c) => contains[c] === 1))[0] ?? null;
}

/** The healthy leakages that clamps around sound strings show, narrowest first. */
function sharpest(clamps: Problem["clamps"]): { readonly lnG: number; readonly sigma: number }[] {
  return clamps
    .flatMap((clamp) => soundLeakage(clamp) ?? [])
    .sort((a, b) => a.sigma - b.sigma)
    .slice(0, 4);
}

function narrowest(measured: readonly Measured[]): readonly Measured[] {
  return measured
    .filter(({ table }) => table.best.sigma < NARROW)
    .toSorted((a, b) => a.table.best.sigma - b.table.best.sigma)
    .slice(0, 3);
}

/** Two ascending lists as one. */
function merged(some: readonly number[], others: readonly number[]): number[] {
  const all: number[] = [];
  let next = 0;
  for (const one of some) {
    while (next < others.length && others[next]! <= one) all.push(others[next++]!);
    all.push(one);
  }
  while (next < others.length) all.push(others[next++]!);
  return all;
}

/** Ascending nodes inside [low, high] with the log of their trapezoid weights under a uniform density. */
function trapezoid(nodes: readonly number[], low: number, high: number): Nodes {
  const ln: number[] = [];
  for (const node of nodes) {
    const isNew = ln.length === 0 || node - ln[ln.length - 1]! > 1e-9;
    if (node >= low && node <= high && isNew) ln.push(node);
  }
  const lnRange = Math.log(high - low);
  const lnWeight: number[] = [];
  for (let i = 0; i < ln.length; i++) {
    const before = ln[i === 0 ? 0 : i - 1]!;
    const after = ln[i === ln.length - 1 ? i : i + 1]!;
    lnWeight.push(Math.log(Math.max(1e-300, (after - before) / 2)) - lnRange);
  }
  return { ln, lnWeight };
}
