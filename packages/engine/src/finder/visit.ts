import type { Amperes, Metres, Minutes, Ohms, Ratio, Volts } from "../quantity/index.ts";

/** One visit: the circuit that was measured, with what, and every reading in the order taken. */
export interface Visit {
  readonly strings: readonly StringSpec[];
  /** Strings joined in parallel at a combiner. */
  readonly circuits: readonly Circuit[];
  readonly instruments: readonly Instrument[];
  /** A pole of a string or circuit that is led to earth on purpose. */
  readonly functionalEarth?: FunctionalEarth;
  readonly conditions: Conditions;
  readonly readings: readonly Reading[];
  readonly costs: Partial<Costs>;
  /** Site-specific weights of places, where the user gave any. */
  readonly priors?: PlaceWeights;
  /** Safety preconditions recorded as done (see `requires` of a step). */
  readonly recorded?: readonly string[];
}

export interface Circuit {
  readonly id: string;
  readonly strings: readonly string[];
  /** Each string joins the circuit through a diode; readings on the joined circuit then say nothing sure. */
  readonly blockingDiodes?: boolean;
}

export interface Conditions {
  readonly mismatch?: Ratio;
  readonly drift?: Ratio;
  readonly wet?: boolean;
  /** The strings carried current while they were read. */
  readonly underLoad?: boolean;
}

/**
 * Earth on the array's side of the isolation. Opened, the array floats. Closed through a known resistor, it is part of the
 * circuit; closed without one (a fuse, a link), readings to earth say nothing of the fault.
 */
export interface FunctionalEarth {
  readonly on: string;
  readonly pole: Terminal;
  readonly through?: Ohms;
  readonly opened: boolean;
}

export interface StringSpec {
  readonly id: string;
  /** Modules in series, counted from the negative end. */
  readonly modules: number;
  /** Bypass sub-strings inside one module. */
  readonly substrings?: number;
  /** Expected open-circuit voltage per module now; a measured + to − wins. */
  readonly moduleVoc?: Volts;
  readonly moduleVocs?: readonly Volts[];
  readonly homeRuns?: { readonly positive?: Metres; readonly negative?: Metres };
}

export type Instrument = Voltmeter | InsulationTester | InsulationMonitor | LeakageClamp;
export interface Voltmeter {
  readonly name: string;
  readonly kind: "voltmeter";
  readonly inputResistance?: Ohms;
  readonly inputTolerance?: Ratio;
  readonly accuracy?: { readonly reading?: Ratio; readonly floor?: Volts };
}
export interface InsulationTester {
  readonly name: string;
  readonly kind: "insulation-tester";
  readonly accuracy?: { readonly reading?: Ratio; readonly floor?: Ohms };
}

/** What an inverter or a fixed monitor shows as insulation: all leaks together, no place. */
export interface InsulationMonitor {
  readonly name: string;
  readonly kind: "insulation-monitor";
  readonly accuracy?: { readonly reading?: Ratio; readonly floor?: Ohms };
}
/** A clamp for small direct currents, closed around both conductors of a string: it sees that string's leak to earth. */
export interface LeakageClamp {
  readonly name: string;
  readonly kind: "leakage-clamp";
  readonly accuracy?: { readonly reading?: Ratio; readonly floor?: Amperes };
}

export type Terminal = "+" | "-";

interface ReadingBase {
  /** Name of an instrument. */
  readonly with: string;
  /** Id of a string or of a circuit. */
  readonly on: string;
  /** The part between nodes a and b, both ends open; its − is node a, its + is node b. */
  readonly segment?: readonly [number, number];
  /** Strings of the circuit that are isolated at both poles. */
  readonly isolated?: readonly string[];
}
/** Size of the voltage between two of +, − and earth, optionally with a known resistor across the meter. */
export interface VoltageReading extends ReadingBase {
  readonly kind: "voltage";
  readonly from: Terminal;
  readonly to: Terminal | "earth";
  readonly shunt?: Ohms;
  readonly value: Volts;
}
/** What an insulation tester shows, forcing `testVoltage` (sign included) from earth onto the terminal. */
export interface InsulationReading extends ReadingBase {
  readonly kind: "insulation";
  readonly from: Terminal | "shorted";
  readonly to: "earth";
  readonly testVoltage: Volts;
  readonly value: Ohms;
}
/**
 * Size of the current that leaves one string to earth while its circuit stays joined and one pole of the circuit is led
 * to earth through a known resistor. The damaged string carries nearly all of it.
 */
export interface LeakageReading extends ReadingBase {
  readonly kind: "leakage";
  /** The circuit that stays joined; `on` is the string inside the clamp. */
  readonly circuit: string;
  readonly from: Terminal;
  readonly to: "earth";
  readonly shunt: Ohms;
  readonly value: Amperes;
}
export type Reading = VoltageReading | InsulationReading | LeakageReading;

export interface Costs {
  readonly openConnector: Minutes;
  readonly isolateString: Minutes;
  readonly reading: Minutes;
  readonly waitDry: Minutes;
}

/** Relative weights of places before any reading. */
export interface PlaceWeights {
  readonly connector: number;
  readonly inModule: number;
  readonly homeRun: number;
  readonly combiner: number;
}
