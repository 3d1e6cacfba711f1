import type { Tag } from "../provenance.ts";

/** The assessment of one site, in the shape of contract `earthbell.assessment/1` (units in the names). */
export interface Assessment {
  readonly format: "earthbell.assessment/1";
  readonly site: string;
  readonly arrays: readonly ArrayAssessment[];
  readonly paths: readonly PathAssessment[];
  readonly owner: { readonly informed: boolean | "unknown"; readonly findings: readonly AssessmentFinding[] };
  readonly warnings: readonly string[];
}

export interface Reason {
  readonly text: string;
  readonly source: string;
  readonly tag: Tag;
}

/** A figure that could not be worked out says what is missing instead. */
export interface Missing {
  readonly missing: readonly string[];
}

export interface ArrayAssessment {
  readonly array: string;
  readonly powerWatts: number;
  readonly areaM2: number | null;
  readonly maxVoltage:
    | ({
        readonly volts: number;
        readonly method: "coefficient" | "table";
        readonly temperatureC: number;
      } & Partial<Reason>)
    | null;
  readonly duty: {
    readonly alarm: "required" | "not-required" | "undecided";
    readonly rulePack: string | null;
    readonly reasons: readonly Reason[];
    readonly missing: readonly string[];
  };
  readonly insulationThreshold: { readonly ohms: number; readonly source: string; readonly tag: Tag } | null;
  readonly insulationTest: {
    readonly testVoltage: number;
    readonly minimumOhms: number;
    readonly source: string;
    readonly tag: Tag;
  } | null;
  readonly residualLimit: {
    readonly continuousMilliamps: number;
    readonly source: string;
    readonly tag: Tag;
  } | null;
  readonly healthyFloor: {
    readonly ohms: number;
    readonly marginToThreshold: number | null;
    readonly source: string;
    readonly tag: Tag;
  } | null;
  readonly proofResistor: {
    readonly ohms: number;
    readonly watts: number;
    readonly milliamps: number;
    readonly elements: number;
    readonly warnings: readonly string[];
  } | null;
}

export type Severity = "fault" | "caution" | "note";

export interface AssessmentFinding {
  /** Stable code; `earthbell explain CODE` tells what it means and what to do. */
  readonly code: string;
  readonly severity: Severity;
  readonly text: string;
  readonly figures?: Readonly<Record<string, number>>;
  readonly source?: string;
  readonly tag?: Tag;
}

export interface PathAssessment {
  readonly path: string;
  readonly signal: "message" | "annunciator" | "indicator";
  readonly verdict: "meets" | "falls-short" | "unproven" | "cannot-tell";
  readonly findings: readonly AssessmentFinding[];
}
