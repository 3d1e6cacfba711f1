import type { Provenance } from "../provenance.ts";
import type { PlaceWeights } from "./visit.ts";

/**
 * What the finder believes before the first reading. No open statistic says where earth faults sit, so the weights are
 * a stated guess that a visit file can replace (`priors`).
 */
export const DEFAULT_PLACE_WEIGHTS: PlaceWeights & Provenance = {
  connector: 2,
  inModule: 2,
  homeRun: 3,
  combiner: 1,
  source:
    "guess: a connector twice, an end with its cable three times as likely as one sub-string boundary in a module; no field statistic of places was found",
  tag: "design choice",
};

/** Prior probability of each hypothesis when somebody is on site because of an alarm. */
export const HYPOTHESIS_PRIOR = {
  none: 0.22,
  wetness: { dry: 0.01, wet: 0.1 },
  two: 0.04,
  source: "a visit follows an alarm, so one fault is the likeliest; figures are a stated guess",
  tag: "design choice",
} as const;

/** A leak counts as a fault up to this resistance; above it, it is healthy leakage. Log-uniform between the limits. */
export const FAULT_RESISTANCE_OHMS = {
  min: 1,
  max: 2e6,
  source: "from a bolted fault to the softest leak that could trouble an insulation test of 1 MΩ",
  tag: "design choice",
} as const;

/** Healthy leakage of one module, log-uniform between the limits. */
export const MODULE_LEAKAGE_OHMS = {
  dry: { min: 10e6, max: 2e9 },
  wet: { min: 1.5e6, max: 2e9 },
  source:
    "lower limit under a just-passing module of the wet type test (40 MΩ·m² over 2 to 3 m²); above 2 GΩ a module's leak no longer shows",
  tag: "design choice",
} as const;

/** How unlike the healthy leakage of two parts of one circuit may be (standard deviation of its logarithm). */
export const LEAKAGE_SPREAD = { dry: 0.03, wet: 0.35 } as const;
/** How far the centroid of healthy leakage may lie from mid-string (standard deviation, share of the string). */
export const LEAKAGE_LOPSIDED = {
  dry: 0.004,
  wet: 0.03,
  /** A sound string whose modules leak unlike each other: a factor of two or three from the least to the most. */
  uneven: 0.03,
  wetness: 0.15,
} as const;

/** Stated defaults of instruments and conditions; every use of one is repeated among the finding's warnings. */
export const DEFAULTS = {
  meterInputOhms: 10e6,
  meterInputTolerance: 0.01,
  meterReading: 0.005,
  meterFloorVolts: 0.2,
  testerReading: 0.05,
  testerFloorOhms: 2e3,
  /** IEC 61557-8 lets an insulation monitor be off by 15 % (from memory). */
  monitorReading: 0.15,
  clampReading: 0.02,
  clampFloorAmperes: 0.1e-3,
  shuntTolerance: 0.005,
  mismatch: 0.005,
  drift: 0.01,
  substrings: 3,
  costs: { openConnector: 12, isolateString: 3, reading: 1, waitDry: 240 },
} as const;
