import { configurationOf, healthyCentroid, partsOf } from "./configuration.ts";
import { isThroughDiodes } from "./through-diodes.ts";
import type { Bench } from "./instruments.ts";
import type { LeakageReading, Visit } from "./visit.ts";

/** A clamp reading with what does not change while hypotheses are tried on it. */
export interface ClampMeasurement {
  /** Index of the string inside the clamp. */
  readonly string: number;
  readonly stringModules: number;
  /** Indices of the strings joined in the circuit, their modules together, and where their healthy leakage balances. */
  readonly joined: ReadonlySet<number>;
  readonly circuitModules: number;
  readonly healthyShare: number;
  readonly volts: number;
  /** Conductance from the earthed pole to earth, and which pole that is. */
  readonly poleSiemens: number;
  readonly pole: "+" | "-";
  /** Current leaving the string to earth [A]: positive when the negative pole is earthed, negative otherwise. */
  readonly amperes: number;
  readonly variance: number;
}

/** One leak of a hypothesis, as the clamp's circuit sees it: its string and conductance [S]. */
export interface ClampLeak {
  readonly string: number;
  readonly siemens: number;
}

/** No clamp is taken to be better than this, whatever is claimed of it (design choice). */
const FINEST_AMPERES = 1e-6;

export function clampMeasurements(visit: Visit, bench: Bench, level: number): ClampMeasurement[] {
  return visit.readings.flatMap((reading) =>
    reading.kind === "leakage" && !isThroughDiodes(visit, reading)
      ? [clampMeasurement(visit, bench, level, reading)]
      : [],
  );
}

export function clampMeasurement(
  visit: Visit,
  bench: Bench,
  level: number,
  reading: LeakageReading,
): ClampMeasurement {
  const isolated = reading.isolated === undefined ? {} : { isolated: reading.isolated };
  const parts = partsOf(visit, { on: reading.circuit, ...isolated });
  const configuration = configurationOf(visit.strings, reading.circuit, parts, []);
  const clamp = bench.clamps.get(reading.with)!;
  const string = visit.strings.findIndex((spec) => spec.id === reading.on);
  return {
    string,
    stringModules: visit.strings[string]!.modules,
    joined: new Set(parts.map((part) => part.string)),
    circuitModules: configuration.moduleCount,
    healthyShare: healthyCentroid(visit.strings, configuration),
    volts: level * configuration.nominal,
    poleSiemens: 1 / reading.shunt,
    pole: reading.from,
    amperes: reading.from === "-" ? reading.value : -(reading.value as number),
    variance:
      (reading.value * clamp.reading) ** 2 +
      Math.max(clamp.floorAmperes, FINEST_AMPERES) ** 2 +
      (reading.value * bench.drift) ** 2,
  };
}

/**
 * Current that leaves the clamped string, as constant + Σ slope·(share of each leak).
 *
 * The circuit's own leaks pull its negative pole to e = −(Σ g·U + G_pole·U_pole)/(G + G_pole); the string then loses
 * Σ g·(e + U) over its own leaks. Both are linear in the shares of the leaks.
 */
export function clampResponse(
  clamp: ClampMeasurement,
  g: number,
  leaks: readonly ClampLeak[],
): { constant: number; slopes: number[] } {
  const { volts, poleSiemens } = clamp;
  const healthy = g * clamp.circuitModules;
  const inCircuit = (leak: ClampLeak): number => (clamp.joined.has(leak.string) ? leak.siemens : 0);
  const total = healthy + poleSiemens + leaks.reduce((sum, leak) => sum + inCircuit(leak), 0);
  const own = g * clamp.stringModules;
  const ownTotal =
    own + leaks.reduce((sum, leak) => sum + (leak.string === clamp.string ? inCircuit(leak) : 0), 0);
  const atPole = clamp.pole === "+" ? poleSiemens : 0;
  const constant =
    volts * (own * clamp.healthyShare - (ownTotal * (healthy * clamp.healthyShare + atPole)) / total);
  const slopes = leaks.map(
    (leak) => volts * inCircuit(leak) * ((leak.string === clamp.string ? 1 : 0) - ownTotal / total),
  );
  return { constant, slopes };
}
