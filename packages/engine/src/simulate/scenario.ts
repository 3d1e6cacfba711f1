import type { ModuleSource, Pole } from "../circuit/array-description.ts";

/** What is wired, how it is damaged, and how well it can be measured; `drawTruth` makes one instance of it. */
export interface Scenario {
  readonly strings: readonly ScenarioString[];
  /** Strings joined in parallel at a combiner. */
  readonly circuits?: readonly { readonly id: string; readonly strings: readonly string[] }[];
  readonly faults: readonly ScenarioFault[];
  readonly functionalEarth?: ScenarioEarth;
  readonly wet: boolean;
  /** Standard deviation of one module's voltage from the string's nominal, as a ratio; fixed for one truth. */
  readonly mismatch: number;
  /** Standard deviation of the common light and temperature factor of one reading, as a ratio. */
  readonly drift: number;
  readonly meter: {
    readonly inputOhms: number;
    /** Standard deviation of the input resistance, as a ratio; fixed for one truth. */
    readonly inputTolerance: number;
    /** Standard deviations of the gain (ratio of the reading) and of the floor, independent, new for every reading. */
    readonly reading: number;
    readonly floorV: number;
  };
  /** Standard deviations of the leakage clamp in the bag. Without it, clamp readings that are asked for have 2 % and 0.1 mA. */
  readonly clamp?: { readonly reading: number; readonly floorA: number };
  readonly tester: { readonly reading: number; readonly floorOhms: number; readonly seriesOhms: number };
  /** Standard deviation of the shunt resistor from its marked value, as a ratio; fixed for one truth. Default 0. */
  readonly shuntTolerance?: number;
  /** Chance that damage at a string's end goes with the home run when that end is opened. Default 0.5. */
  readonly endGoesWithHomeRun?: number;
}

/**
 * A pole of a string or circuit led to earth on purpose. Through a fuse or a link it is firm and the visit does not state
 * its resistance; a resistor's is stated as marked.
 */
export interface ScenarioEarth {
  readonly on: string;
  readonly pole: Pole;
  readonly through: "fuse" | "resistor";
  readonly ohms: number;
  /** Opened for the measuring: the array then floats. */
  readonly opened: boolean;
}

export interface ScenarioString {
  readonly id: string;
  readonly modules: number;
  readonly substrings?: number;
  readonly module: ModuleSource;
  /** Insulation of one module to earth [Ω], the same for all or one each; Infinity for none. */
  readonly moduleLeakOhms: number | readonly number[];
  readonly homeRunOhms?: { readonly positive: number; readonly negative: number };
}

export type ScenarioFault = {
  readonly ohms: number /** Gone once the array is dry. */;
  readonly onlyWet?: boolean;
} & (
  | { readonly string: string; readonly at: number }
  | { readonly string: string; readonly homeRun: Pole }
  | { readonly circuit: string; readonly pole: Pole }
);

/**
 * A crystalline module near open circuit: 0.6 Ω behind its voltage, the slope n·N_s·kT/q / I plus series resistance of a 40 V,
 * 9 A class module [computed from assumed n 1.1, 72 cells, 0.35 Ω; design choice].
 */
export function linearModule(openCircuitV: number, sourceOhms = 0.6): ModuleSource {
  return { kind: "linear", openCircuitV, sourceOhms };
}
