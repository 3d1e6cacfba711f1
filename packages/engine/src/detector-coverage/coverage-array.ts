import type { ModuleSource, Pole } from "../circuit/index.ts";

/** An array of equal strings as its detectors see it, at the light and temperature of the moment. */
export interface CoverageArray {
  readonly modulesPerString: number;
  readonly strings: number;
  /** Voltage of one module at open circuit, and at its working point while the inverter runs. */
  readonly moduleOpenV: number;
  readonly moduleRunningV: number;
  /** Insulation of the whole healthy array [Ω]; absent: infinite. */
  readonly healthyOhms?: number;
  readonly earthing: CoverageEarthing;
}

export type CoverageEarthing =
  | { readonly kind: "floating" }
  /** One pole earthed through a fuse or resistor, opened for the insulation check (functional) or never (solid). */
  | {
      readonly kind: "functional" | "solid";
      readonly pole: Pole;
      readonly ohms: number;
      /** One module, for the current that a fault can drive. */
      readonly module: ModuleSource;
      /** Conductor from a string to the bus on the earthed side, each string [Ω]: its drop is what a fault there sees. */
      readonly leadOhms: number;
      /** Load across the array while running [Ω]. */
      readonly loadOhms: number;
    };

/** What watches the array. A detector that is absent is not there. */
export interface DetectorSet {
  /** Measures the insulation of the array, at start or all day. Impossible on a solidly earthed array. */
  readonly insulation?: {
    readonly thresholdOhms: number;
    readonly at: readonly ("start" | "continuous")[];
    /** Uncertainty of the detector as a share: only a fault under threshold · (1 − tolerance) counts as seen. */
    readonly tolerance?: number;
  };
  /** Trips on residual current while a non-isolated inverter runs. */
  readonly residual?: {
    readonly tripA: number;
    /** Where along the running voltage the inverter holds earth: 0.5 is the middle, the usual case (design choice). */
    readonly earthAtShare?: number;
  };
  /** Opens on current through the functional earth; only for an earthed array. */
  readonly interrupter?: { readonly ratedA: number };
  /** Compares the voltages of the two poles to earth; blind where they stay equal. Only for a floating array. */
  readonly asymmetry?: {
    /** Difference of the two as a share of their sum at which it trips, 0 to 1. */
    readonly tripShare: number;
    /** Input resistance from each pole to earth [Ω]. */
    readonly inputOhms: number;
  };
}

export type DetectorKind =
  | "insulation-start"
  | "insulation-continuous"
  | "residual"
  | "interrupter"
  | "asymmetry";
