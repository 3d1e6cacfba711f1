import type { Tag } from "../provenance.ts";

/** The assessment of one site, in the format `earthbell.assessment/1` (units in the names). */
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

/** A pack that may bind for one work on the array, and what it says of the alarm in every case that the facts leave open. */
export interface MayBind {
  /** null: an edition that is not held here. */
  readonly rulePack: string | null;
  readonly says: Duty["alarm"];
  /** The work it may bind for, named only where an altered array is judged for both of its works. */
  readonly work?: "installed" | "altered";
}

/** What the rules require of one array, and which row of which pack says so. */
export interface Duty {
  readonly alarm: "required" | "not-required" | "undecided";
  /** The pack that decided; null when none did or when it is not settled which one binds. */
  readonly rulePack: string | null;
  /** The row of that pack. */
  readonly row: string | null;
  /** Other packs that may bind instead; what each says is in `mayBind`. */
  readonly alternatives: readonly string[];
  /** Every pack that may bind, the deciding one included. Empty where nothing is held for the place and day. */
  readonly mayBind: readonly MayBind[];
  readonly reasons: readonly Reason[];
  /** Fields of the site file, or documents, that would settle what is undecided. */
  readonly missing: readonly string[];
}

export interface ArrayAssessment {
  readonly array: string;
  readonly powerWatts: number;
  readonly areaM2: number | null;
  readonly maxVoltage:
    | ({
        readonly volts: number;
        readonly method: "coefficient" | "table" | "stated";
        readonly temperatureC: number;
      } & Partial<Reason>)
    | null;
  readonly duty: Duty;
  readonly insulationThreshold: {
    readonly ohms: number;
    readonly source: string;
    readonly tag: Tag;
    /** Row by the other reading of the table's rating (kW or kVA), where it differs. */
    readonly otherwise?: { readonly ohms: number; readonly rating: string };
  } | null;
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
    /** One resistor of this value, rating and current, at the highest array voltage. */
    readonly ohms: number;
    readonly watts: number;
    readonly milliamps: number;
    /** Elements in series that the voltage asks for. */
    readonly elements: number;
    /** The same made of equal preferred values in series. */
    readonly series: {
      readonly ohmsEach: number;
      readonly wattsEach: number;
      readonly totalOhms: number;
      readonly milliamps: number;
    };
    /** Measured before use, it must not exceed this. */
    readonly atMostOhms: number;
    /** false: its current would exceed the residual-current limit; it must not be connected. */
    readonly permitted: boolean;
    readonly warnings: readonly string[];
  } | null;
  /** What is wrong, or cannot be said, about the array itself. */
  readonly findings: readonly AssessmentFinding[];
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
