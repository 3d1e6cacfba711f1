/** An array as it is wired, for `solveArray`. Positions count modules from the negative end. */
export interface ArrayDescription {
  readonly strings: readonly ArrayString[];
  readonly faults: readonly ArrayFault[];
  /** Functional earth of one bus pole through a resistor or fuse; leave it out when it is opened. */
  readonly earthing?: { readonly pole: Pole; readonly ohms: number };
  /** Resistor across the two bus poles. */
  readonly loadOhms?: number;
}

export type Pole = "+" | "-";

export interface ArrayString {
  readonly id: string;
  /** From the negative end. */
  readonly modules: readonly ModuleSource[];
  /** Bypass sub-strings inside each module; default 1. */
  readonly substrings?: number;
  /** Insulation of each module to earth [S]; half of it acts at each end of the module. Default: none leaks. */
  readonly moduleLeaksS?: readonly number[];
  /** Conductor between the string's end and the combiner [Ω], each pole; default 0. */
  readonly homeRunOhms?: { readonly positive: number; readonly negative: number };
  /** String fuse of each pole: taken out, that pole is apart from the bus. Default: both in. */
  readonly fuseOut?: { readonly positive?: boolean; readonly negative?: boolean };
  /** Blocking diode at the positive combiner terminal, letting current out of the string only. */
  readonly blockingDiode?: DiodeCurve;
  /** Connectors apart at these nodes. */
  readonly openNodes?: readonly number[];
}

/**
 * A module as a source. `linear`: its open-circuit voltage behind a resistance, 0 Ω for a stiff one; right near open circuit.
 * `single-diode`: light current, diode, shunt and series resistance of the whole module, split evenly over its sub-strings.
 */
export type ModuleSource =
  | { readonly kind: "linear"; readonly openCircuitV: number; readonly sourceOhms: number }
  | {
      readonly kind: "single-diode";
      readonly lightA: number;
      readonly saturationA: number;
      /** n·N_s·kT/q of the whole module. */
      readonly slopeV: number;
      readonly seriesOhms: number;
      readonly shuntOhms: number;
      /** Across each sub-string; leave out for none. */
      readonly bypass?: DiodeCurve;
    };

export interface DiodeCurve {
  readonly saturationA: number;
  readonly slopeV: number;
}

export type ArrayPlace =
  | { readonly string: string; readonly at: number }
  /** `along`: 0 at the string's end, 1 at the combiner; default 0.5. */
  | { readonly string: string; readonly homeRun: Pole; readonly along?: number }
  | { readonly bus: Pole };

export interface ArrayFault {
  readonly place: ArrayPlace;
  readonly ohms: number;
  /** Half that keeps the damage when the junction is opened there; default below (towards the negative end). */
  readonly staysWith?: Side;
}

export type Side = "below" | "above";

/** Where a probe touches: the bus, the combiner end of a home run, or a node (at an opened one, which side of it). */
export type Probe =
  | { readonly bus: Pole }
  | { readonly string: string; readonly homeRun: Pole }
  | { readonly string: string; readonly at: number; readonly side?: Side };

export type ArrayInstrument =
  | {
      readonly kind: "voltmeter";
      readonly from: Probe;
      readonly to: Probe | "earth";
      readonly inputOhms: number;
      readonly shuntOhms?: number;
    }
  /** Forces `testV` behind `seriesOhms` from earth onto `at`; a second probe is joined to the first (shorted poles). */
  | {
      readonly kind: "tester";
      readonly at: Probe;
      readonly shortedTo?: Probe;
      readonly testV: number;
      readonly seriesOhms: number;
    };
