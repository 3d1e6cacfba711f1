import type { CoverageArray, DetectorKind, DetectorSet } from "./coverage-array.ts";
import { asymmetryShare, earthCurrentA, residualCurrentA } from "./fault-current.ts";

/** When a fault is born: in the dark, or while the inverter runs. */
export type Phase = "night" | "running";

/** What sees a fault, and how soon; `never` where nothing does. */
export interface Coverage {
  readonly soon: "at-once" | "next-start" | "never";
  /** The detectors that see it that soon. */
  readonly by: readonly DetectorKind[];
}

/** Which detector sees a fault at each place and resistance, by when it is born. */
export interface CoverageMap {
  /** Modules from the negative end. */
  readonly positions: readonly number[];
  /** Rising [Ω]. */
  readonly faultOhms: readonly number[];
  /** By phase, then position, then resistance. */
  readonly cells: Readonly<Record<Phase, readonly (readonly Coverage[])[]>>;
  /** Share of the map, each place and each decade of resistance counting alike. */
  readonly shares: Readonly<Record<Phase, Readonly<Record<Coverage["soon"], number>>>>;
  /** Places where nothing sees any fault of the map, whenever it is born. */
  readonly blindPositions: readonly number[];
}

export interface CoverageOptions {
  /** Default: every junction, 0 to the number of modules. */
  readonly positions?: readonly number[];
  /** Default: 1 Ω to 100 kΩ, four a decade. */
  readonly faultOhms?: readonly number[];
}

const PER_DECADE = 4;
const DECADES = 5;

function defaultResistances(): readonly number[] {
  return Array.from({ length: PER_DECADE * DECADES + 1 }, (_, i) => 10 ** (i / PER_DECADE));
}

/** Highest fault resistance that a detector sees at each position; 0 where it sees none, infinite where it sees all. */
interface Reach {
  readonly kind: DetectorKind;
  /** Needs the inverter to run. */
  readonly whileRunning: boolean;
  readonly highestOhms: (at: number) => number;
}

/** R_f under which R_f and the healthy insulation in parallel fall below a resistance. */
function besideHealthy(belowOhms: number, healthyOhms: number | undefined): number {
  if (healthyOhms === undefined) return belowOhms;
  return healthyOhms <= belowOhms ? Infinity : 1 / (1 / belowOhms - 1 / healthyOhms);
}

function insulationReaches(array: CoverageArray, { insulation }: DetectorSet): readonly Reach[] {
  // The earth of a solidly earthed array cannot be opened for the check, which would measure that earth.
  if (insulation === undefined || array.earthing.kind === "solid") return [];
  const below = insulation.thresholdOhms * (1 - (insulation.tolerance ?? 0));
  const highest = besideHealthy(below, array.healthyOhms);
  const start: Reach = { kind: "insulation-start", whileRunning: false, highestOhms: () => highest };
  const all: Reach = { kind: "insulation-continuous", whileRunning: true, highestOhms: () => highest };
  const watchesRunning = insulation.at.includes("continuous") && array.earthing.kind === "floating";
  return [...(insulation.at.length > 0 ? [start] : []), ...(watchesRunning ? [all] : [])];
}

function floatingReaches(array: CoverageArray, { residual, asymmetry }: DetectorSet): readonly Reach[] {
  if (array.earthing.kind !== "floating") return [];
  const reaches: Reach[] = [];
  if (residual !== undefined) {
    const { tripA, earthAtShare } = residual;
    const highestOhms = (at: number): number => residualCurrentA(array, at, 1, earthAtShare) / tripA;
    reaches.push({ kind: "residual", whileRunning: true, highestOhms });
  }
  // With a non-isolated inverter running, the inverter fixes the pole voltages and asymmetry says nothing.
  if (asymmetry !== undefined && residual === undefined) {
    const seen = (at: number, ohms: number): boolean =>
      asymmetryShare(array, at, ohms, asymmetry.inputOhms) >= asymmetry.tripShare;
    reaches.push({
      kind: "asymmetry",
      whileRunning: true,
      highestOhms: (at) => bisected((ohms) => seen(at, ohms)),
    });
  }
  return reaches;
}

/** Highest resistance for which a falling criterion holds, between 1 mΩ and 1 GΩ. */
function bisected(seen: (ohms: number) => boolean): number {
  let low = -3;
  let high = 9;
  if (!seen(10 ** low)) return 0;
  for (let round = 0; round < 40; round++) {
    const middle = (low + high) / 2;
    if (seen(10 ** middle)) low = middle;
    else high = middle;
  }
  return 10 ** low;
}

/** The interrupter's reach is looked for among the resistances of the map only: each look solves a network. */
function interrupterReach(
  array: CoverageArray,
  { interrupter }: DetectorSet,
  faultOhms: readonly number[],
): readonly Reach[] {
  const { earthing } = array;
  if (interrupter === undefined || earthing.kind === "floating") return [];
  const highestOhms = (at: number): number => {
    let seen = -1;
    let unseen = faultOhms.length;
    while (unseen - seen > 1) {
      const middle = (seen + unseen) >> 1;
      if (earthCurrentA(array, earthing, at, faultOhms[middle]!) > interrupter.ratedA) seen = middle;
      else unseen = middle;
    }
    return seen < 0 ? 0 : faultOhms[seen]!;
  };
  return [{ kind: "interrupter", whileRunning: true, highestOhms }];
}

function coverageOf(seeing: readonly Reach[], phase: Phase): Coverage {
  const running = seeing.filter((reach) => reach.whileRunning);
  if (phase === "running" && running.length > 0)
    return { soon: "at-once", by: running.map(({ kind }) => kind) };
  // What needs the inverter to run sees a fault of the night when it starts, as the start check does.
  if (seeing.length > 0) return { soon: "next-start", by: seeing.map(({ kind }) => kind) };
  return { soon: "never", by: [] };
}

function sharesOf(rows: readonly (readonly Coverage[])[]): Readonly<Record<Coverage["soon"], number>> {
  const cells = rows.flat();
  const share = (soon: Coverage["soon"]): number =>
    cells.filter((cell) => cell.soon === soon).length / cells.length;
  return { "at-once": share("at-once"), "next-start": share("next-start"), never: share("never") };
}

/**
 * For each place along a string and each fault resistance: which detector sees the fault, how soon, or nothing.
 *
 * - Insulation check: 1/R_f + 1/R_healthy under the threshold, wherever the fault is; at start it waits for the next start.
 * - Residual current: |U(x) − U_earth| / R_f over the trip level; blind where the conductor is near earth potential.
 * - Interrupter of an earthed array: current through the earth connection; blind on the earthed conductor.
 * - Asymmetry: blind at mid-string.
 *
 * @returns the map, its shares (each place and each decade alike) and the places where nothing sees anything
 * Check: checks/coverage-ngspice
 */
export function coverageMap(
  array: CoverageArray,
  detectors: DetectorSet,
  options: CoverageOptions = {},
): CoverageMap {
  const positions = options.positions ?? Array.from({ length: array.modulesPerString + 1 }, (_, at) => at);
  const faultOhms = [...(options.faultOhms ?? defaultResistances())].sort((a, b) => a - b);
  const reaches = [
    ...insulationReaches(array, detectors),
    ...floatingReaches(array, detectors),
    ...interrupterReach(array, detectors, faultOhms),
  ];
  const seeing = positions.map((at) => {
    const highest = reaches.map((reach) => ({ reach, ohms: reach.highestOhms(at) }));
    return faultOhms.map((fault) => highest.filter(({ ohms }) => fault <= ohms).map(({ reach }) => reach));
  });
  const phase = (when: Phase): readonly (readonly Coverage[])[] =>
    seeing.map((row) => row.map((reach) => coverageOf(reach, when)));
  const cells = { night: phase("night"), running: phase("running") };
  return {
    positions,
    faultOhms,
    cells,
    shares: { night: sharesOf(cells.night), running: sharesOf(cells.running) },
    blindPositions: positions.filter((_, p) => cells.running[p]!.every(({ soon }) => soon === "never")),
  };
}

/** Share of faults that something sees at once while the inverter runs: what the time to notice may count on. */
export function seenAtOnceShare(map: CoverageMap): number {
  return map.shares.running["at-once"];
}
