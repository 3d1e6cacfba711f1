import type { Random } from "../../simulate/random.ts";

/** What can be wrong with a simulated array. */
export type SimulatedTrouble =
  | "healthy"
  | "moisture-driven"
  | "hard"
  | "progressive"
  | "intermittent"
  | "sensor";

export const SIMULATED_TROUBLES: readonly SimulatedTrouble[] = [
  "healthy",
  "moisture-driven",
  "hard",
  "progressive",
  "intermittent",
  "sensor",
];

export type SensorTrouble = "stuck" | "dropouts" | "unit-slip" | "noisy";

/** The array and its damage, drawn once. Resistances of the whole array to earth. */
export interface SimulatedArray {
  readonly trouble: SimulatedTrouble;
  /** Dry, at 25 °C, when new [Ω]. */
  readonly dryOhms: number;
  /** Activation energy of the bulk [eV]. */
  readonly bulkEv: number;
  /** Conductance of a sound wet surface over that of the dry bulk. */
  readonly wetRatio: number;
  /** Day of the record on which the damage begins. */
  readonly onsetDay: number;
  /** Resistance of the fault path, wet where it needs water [Ω]. */
  readonly faultOhms: number;
  /** Decades lost per 365 days at the mean weather; progressive only. */
  readonly decadesPerYear: number;
  /** Share of mornings with contact; intermittent only. */
  readonly contactShare: number;
  readonly sensor: SensorTrouble;
  readonly instrument: {
    readonly gain: number;
    readonly noise: number;
    readonly ceilingOhms: number;
    readonly digits: number;
  };
}

const SENSOR_KINDS: readonly SensorTrouble[] = ["stuck", "dropouts", "unit-slip", "noisy"];
const CEILINGS = [2e6, 5e6, 10e6, 20e6, 50e6, 100e6];

/** A slow decline that an instrument cannot see would be no case of it: there the ceiling lies above the dry array. */
function ceilingFor(trouble: SimulatedTrouble, dryOhms: number, random: Random): number {
  const high = trouble === "progressive" ? CEILINGS.filter((ohms) => ohms > 2 * dryOhms) : CEILINGS;
  return high[Math.floor(random.uniform() * high.length)]!;
}

export function drawArray(trouble: SimulatedTrouble, days: number, random: Random): SimulatedArray {
  const between = (low: number, high: number): number => low * (high / low) ** random.uniform();
  const dryOhms = between(1e6, 30e6);
  return {
    trouble,
    dryOhms,
    bulkEv: 0.3 + 0.4 * random.uniform(),
    wetRatio: between(0.5, 6),
    onsetDay: Math.floor(days * (0.1 + 0.6 * random.uniform())),
    faultOhms: Math.min(between(3e3, 150e3), dryOhms / 10),
    decadesPerYear: between(0.25, 1.2),
    contactShare: between(0.03, 0.3),
    sensor: SENSOR_KINDS[Math.floor(random.uniform() * SENSOR_KINDS.length)]!,
    instrument: {
      gain: Math.exp(0.08 * random.normal()),
      noise: 0.01 + 0.03 * random.uniform(),
      ceilingOhms: ceilingFor(trouble, dryOhms, random),
      digits: random.uniform() < 0.5 ? 3 : 2,
    },
  };
}
