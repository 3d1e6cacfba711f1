import { configurationOf, healthyCentroid, partsOf } from "./configuration.ts";
import { poleEarthOf } from "./functional-earth.ts";
import type { Bench } from "./instruments.ts";
import { busIndex } from "./places.ts";
import type { PoleEarth } from "./reading-response.ts";
import { isThroughDiodes } from "./through-diodes.ts";
import type { LeakageReading, Visit } from "./visit.ts";

/** A clamp reading with what does not change while hypotheses are tried on it. */
export interface ClampMeasurement {
  /** Index of the string inside the clamp. */
  readonly string: number;
  readonly stringModules: number;
  /** Indices of the strings joined in the circuit and of its bus, its modules, and where its healthy leakage balances. */
  readonly joined: ReadonlySet<number>;
  readonly circuitModules: number;
  readonly healthyShare: number;
  readonly volts: number;
  /** Conductance from each pole to earth: the known resistor, and a functional earth that is closed. */
  readonly poles: PoleEarth;
  /** All leaks of the circuit by its own readings, without the poles' earths. */
  readonly circuit: CircuitLeak;
  /** Size of the current that leaves the string to earth [A]. */
  readonly amperes: number;
  readonly variance: number;
  /** What healthy leakage unlike the even spread adds to the variance for each siemens of it in the string [A²/S²]. */
  readonly unlikeVariance: number;
}

/** All leaks of a circuit together: their conductance [S] and where they balance, as a share of its voltage. */
export interface CircuitLeak {
  readonly siemens: number;
  readonly share: number;
}

/** How far healthy leakage may lie off mid-string, and how unlike it may be from string to string (priors.ts). */
export interface Unlikeness {
  readonly lopsided: number;
  readonly spread: number;
}

/** One leak of a hypothesis, as the clamp's circuit sees it: its string, or its bus, and conductance [S]. */
export interface ClampLeak {
  readonly string: number;
  readonly siemens: number;
}

/** No clamp is taken to be better than this, whatever is claimed of it (design choice). */
const FINEST_AMPERES = 1e-6;

/** @param leakOf  what a circuit's own readings say of its leaks; mid-string where it was not read */
export function clampMeasurements(
  visit: Visit,
  bench: Bench,
  level: number,
  unlike: Unlikeness,
  leakOf: (circuit: string) => CircuitLeak,
): ClampMeasurement[] {
  return visit.readings.flatMap((reading) =>
    reading.kind === "leakage" && !isThroughDiodes(visit, reading)
      ? [clampMeasurement(visit, bench, level, unlike, leakOf(reading.circuit), reading)]
      : [],
  );
}

export function clampMeasurement(
  visit: Visit,
  bench: Bench,
  level: number,
  unlike: Unlikeness,
  circuit: CircuitLeak,
  reading: LeakageReading,
): ClampMeasurement {
  const isolated = reading.isolated === undefined ? {} : { isolated: reading.isolated };
  const parts = partsOf(visit, { on: reading.circuit, ...isolated });
  const configuration = configurationOf(visit.strings, reading.circuit, parts, []);
  const clamp = bench.clamps.get(reading.with)!;
  const string = visit.strings.findIndex((spec) => spec.id === reading.on);
  const earth = poleEarthOf(visit, configuration);
  const resistor = 1 / reading.shunt;
  const poles = {
    minus: earth.minus + (reading.from === "-" ? resistor : 0),
    plus: earth.plus + (reading.from === "+" ? resistor : 0),
  };
  const healthyShare = healthyCentroid(visit.strings, configuration);
  const volts = level * configuration.nominal;
  const sway = unlike.spread * (healthyShare - balance(circuit, poles));
  const bus = visit.circuits.findIndex(({ id }) => id === reading.circuit);
  return {
    string,
    stringModules: visit.strings[string]!.modules,
    joined: new Set([...parts.map((part) => part.string), busIndex(bus)]),
    circuitModules: configuration.moduleCount,
    healthyShare,
    volts,
    poles,
    circuit,
    amperes: reading.value,
    variance:
      (reading.value * clamp.reading) ** 2 +
      Math.max(clamp.floorAmperes, FINEST_AMPERES) ** 2 +
      (reading.value * bench.drift) ** 2,
    unlikeVariance: volts ** 2 * (unlike.lopsided ** 2 + sway ** 2),
  };
}

/** Where the circuit is at earth, as a share of its voltage: the balance of its leaks and of the earths of its poles. */
function balance({ siemens, share }: CircuitLeak, { minus, plus }: PoleEarth): number {
  return (siemens * share + plus) / (siemens + minus + plus);
}

/** Current that leaves the clamped string as constant + Σ slope·(share of each leak) [A], against what the clamp showed. */
export interface ClampResponse {
  readonly constant: number;
  readonly slopes: readonly number[];
  /** `constant` less the current shown, in the sense in which it must have flown. */
  readonly rest: number;
  readonly variance: number;
}

/**
 * The circuit's own leaks pull its negative pole to e = −(Σ g·U + G₊·V)/(G + G₋ + G₊), G± the earths of the poles; the
 * string then loses Σ g·(e + U) over its own leaks. Both are linear in the shares of the leaks.
 *
 * A clamp's sign depends on how it was held, so that only the size is known: a sound string's leakage flows backwards
 * where damage elsewhere sits nearer the other pole. The sense is that of the leaks where the circuit's own readings
 * put them.
 * Check: checks/circuit-ngspice/leakage-clamp.check.ts
 */
export function clampResponse(
  clamp: ClampMeasurement,
  g: number,
  leaks: readonly ClampLeak[],
): ClampResponse {
  const { volts, poles, healthyShare } = clamp;
  const healthy = g * clamp.circuitModules;
  const inCircuit = (leak: ClampLeak): number => (clamp.joined.has(leak.string) ? leak.siemens : 0);
  const total = healthy + poles.minus + poles.plus + leaks.reduce((sum, leak) => sum + inCircuit(leak), 0);
  const own = g * clamp.stringModules;
  const ownTotal =
    own + leaks.reduce((sum, leak) => sum + (leak.string === clamp.string ? inCircuit(leak) : 0), 0);
  const constant = volts * (own * healthyShare - (ownTotal * (healthy * healthyShare + poles.plus)) / total);
  const slopes = leaks.map(
    (leak) => volts * inCircuit(leak) * ((leak.string === clamp.string ? 1 : 0) - ownTotal / total),
  );
  const near = Math.min(1, Math.max(0, clamp.circuit.share));
  const expected = slopes.reduce((sum, slope) => sum + slope * near, constant);
  return {
    constant,
    slopes,
    rest: expected < 0 ? constant + clamp.amperes : constant - clamp.amperes,
    variance: clamp.variance + clamp.unlikeVariance * own ** 2,
  };
}

/** A clamp wider than this on a sound string's leakage is followed by the coarse grid (nodes.ts). */
const TELLS = 0.5;

/**
 * ln of the healthy leakage of one module [S] that a clamp shows if its string is sound, and one sigma of it; null where
 * the clamp cannot tell, as when the circuit is at earth in its middle.
 */
export function soundLeakage(
  clamp: ClampMeasurement,
): { readonly lnG: number; readonly sigma: number } | null {
  const offMiddle = Math.abs(clamp.healthyShare - balance(clamp.circuit, clamp.poles));
  const g = clamp.amperes / (clamp.volts * clamp.stringModules * offMiddle);
  const sigma =
    Math.sqrt(clamp.variance + clamp.unlikeVariance * (g * clamp.stringModules) ** 2) / clamp.amperes;
  return Number.isFinite(g) && g > 0 && sigma < TELLS ? { lnG: Math.log(g), sigma } : null;
}
