import type { ReadingCode } from "./reading-codes.ts";
import type { Terminal } from "./visit.ts";

/** What the readings of a visit say, in the shape of contract `earthbell.finding/1` (units in the names). */
export interface Finding {
  readonly format: "earthbell.finding/1";
  readonly verdict: Verdict;
  /** One sentence that gives the reason for the verdict. */
  readonly because: string;
  readonly insulation: readonly {
    readonly string: string;
    readonly ohms: number;
    readonly low: number;
    readonly high: number;
  }[];
  readonly places: readonly PlaceProbability[];
  readonly credible: {
    readonly level: number;
    readonly places: readonly { readonly string: string; readonly at: number }[];
  };
  readonly faultResistance: { readonly ohms: number; readonly low: number; readonly high: number } | null;
  readonly hypotheses: readonly {
    readonly faults: number;
    readonly probability: number;
    readonly what: string;
  }[];
  readonly handRule: readonly HandRule[];
  readonly next: readonly Step[];
  readonly suspect: readonly Suspect[];
  /** Codes of what was found about the readings themselves: suspects, declined readings, doubtful lengths. */
  readonly codes: readonly ReadingCode[];
  readonly warnings: readonly string[];
}

export type Verdict = "located" | "narrowed" | "cannot-tell" | "no-fault" | "more-than-one" | "inconsistent";

export interface PlaceProbability {
  /** The string, or the circuit for its combiner bus. */
  readonly string: string;
  /** Position in modules from the negative end: whole = junction there, fraction = sub-string boundary inside a module. */
  readonly at: number;
  readonly what: "junction" | "module" | "home-run" | "combiner";
  readonly label: string;
  readonly probability: number;
}

/** The trade's proportional rule on the same readings, for comparison. */
export interface HandRule {
  readonly string: string;
  readonly at: number | null;
  readonly why: string;
}

/** A reading that does not fit the rest, with the likeliest slip behind it and the reading that would settle it. */
export interface Suspect {
  /** Index into the visit's readings. */
  readonly reading: number;
  readonly code: ReadingCode;
  readonly blunder: string;
  readonly settle: string;
}

export interface Step {
  readonly action:
    | "read"
    | "read-with-shunt"
    | "tester"
    | "isolate-string"
    | "open-connector"
    | "confirm"
    | "wait-dry";
  readonly string: string;
  readonly at?: number;
  /** Strings isolated together at the combiner, when the action is on a group. */
  readonly group?: readonly string[];
  readonly minutes: number;
  readonly bits: number;
  readonly why: string;
  /** Safety preconditions that must be recorded before the step is done. */
  readonly requires: readonly string[];
  readonly readings: readonly RequestedReading[];
}

/** A reading in the visit file's form, without its value. */
export interface RequestedReading {
  readonly with: string;
  readonly on: string;
  /** With a leakage clamp: the circuit that stays joined while `on` is inside the clamp. */
  readonly circuit?: string;
  readonly from: Terminal;
  readonly to: Terminal | "earth";
  readonly segment?: readonly [number, number];
  readonly isolated?: readonly string[];
  readonly shunt?: string;
  readonly testVoltage?: string;
}
