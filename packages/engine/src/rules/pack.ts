import type { Provenance, Sourced } from "../provenance.ts";

/**
 * One edition of one rule set as plain data, so that the person answerable can correct a row from their own copy of the
 * standard. Every value carries its source and tag. The format is `earthbell.rules/1`; the built-in packs are in packs/.
 */
export interface RulePack {
  readonly format: "earthbell.rules/1";
  /** Kebab-case, unique; a user's pack with the id of a built-in one replaces it. */
  readonly id: string;
  readonly title: string;
  readonly edition: string;
  /** Where the pack can bind. Empty: nowhere by itself, only where a site file names it. */
  readonly jurisdictions: readonly Jurisdiction[];
  /**
   * date: the windows of `inForce` choose the pack.
   * name: the authority's adoption chooses it, so a site file must name it (`place.rules.pack`).
   */
  readonly selectedBy: "date" | "name";
  readonly inForce: readonly Window[];
  /** Read from the top: the first row whose conditions all hold decides. */
  readonly duty: readonly DutyRow[];
  readonly alarm?: AlarmNeeds;
  readonly insulationThreshold?: ThresholdTable;
  /** Left out: the IEC 62109-2 limits of limits/residual-limit.ts. */
  readonly residual?: readonly ResidualRow[];
  /** Left out: the IEC 62446-1 table of limits/insulation-test.ts. */
  readonly insulationTest?: readonly InsulationTestRow[];
  readonly notes?: readonly PackNote[];
  /** Of a user's pack: who put it in the place of another edition, and why. */
  readonly override?: PackOverride;
}

export interface PackOverride {
  readonly by: string;
  /** YYYY-MM-DD. */
  readonly on?: string;
  readonly because: string;
}

export interface Jurisdiction {
  /** ISO 3166-1 alpha-2. */
  readonly country: string;
  /** ISO 3166-2 parts after the hyphen; left out: the whole country. */
  readonly regions?: readonly string[];
}

/** A span of days, both ends included, in which the edition may or must be used. */
export interface Window extends Provenance {
  /** work-done: the day of installation or alteration; work-begun: the day on which that work began. */
  readonly basis: "work-done" | "work-begun";
  /** YYYY-MM-DD; left out: since ever. */
  readonly from?: string;
  /** YYYY-MM-DD, the last day; left out: still in force. */
  readonly until?: string;
  /** choice: another edition may be used instead, whole, never mixed. */
  readonly binding: "mandatory" | "choice";
  /** Regions for which the dates were published; elsewhere the reader is told to confirm them. */
  readonly publishedFor?: readonly string[];
}

export type Alarm = "required" | "not-required" | "undecided";

export interface DutyRow extends Provenance {
  /** Unique inside the pack. */
  readonly id: string;
  readonly when: readonly Condition[];
  readonly alarm: Alarm;
  readonly text: string;
  /** What would settle it; only on rows that leave the answer undecided. */
  readonly settledBy?: string;
}

/** One fact of an array and what it must be. Bounds: `above` excludes its value, `atMost` includes it. */
export type Condition =
  | ({ readonly fact: "max-voltage" } & Bounds)
  | ({ readonly fact: "power-kilowatts" } & Bounds)
  | ({ readonly fact: "parallel-strings" } & Bounds)
  | { readonly fact: "earthing"; readonly is: readonly ("floating" | "functional" | "solid")[] }
  | { readonly fact: "mounting"; readonly is: readonly ("building" | "field")[] }
  | { readonly fact: "separation"; readonly is: readonly ("none" | "simple")[] }
  /** The day that chose the pack, both ends included. */
  | { readonly fact: "date"; readonly from?: string; readonly until?: string };

export interface Bounds {
  readonly above?: number;
  readonly atMost?: number;
}

/** What the alarm must do where it is required. */
export interface AlarmNeeds {
  readonly signals: Sourced<readonly ("message" | "annunciator" | "indicator")[]>;
  /** Must be noticed by somebody who acts on it. */
  readonly perceived?: Sourced<string>;
  /** A message goes to at least this many addresses. */
  readonly leastAddresses?: Sourced<number>;
  /** Longest time between repeats of a message, in minutes. */
  readonly repeatEveryMinutes?: Sourced<number>;
  /** A message is repeated until one of these. */
  readonly repeatUntil?: Sourced<readonly ("acknowledged" | "cleared")[]>;
  /** The indication goes on until one of these. */
  readonly until?: Sourced<readonly ("cleared" | "shut-down")[]>;
  /** Written instructions to the owner. */
  readonly ownerInstructions?: Sourced<boolean>;
  /** The insulation is checked at least this often, in hours. */
  readonly checkEveryHours?: Sourced<number>;
}

export interface ThresholdTable {
  /** The rating that chooses the row. Sources disagree on kW or kVA, so the other reading is shown when it differs. */
  readonly rating: Sourced<"array-kilowatts" | "inverter-kilovoltamperes">;
  /** Ascending and without gaps. */
  readonly rows: readonly ThresholdRow[];
}

export interface ThresholdRow {
  /** Excluded lower end; 0 in the first row. */
  readonly above: number;
  /** Included upper end; left out in the last row. */
  readonly atMost?: number;
  readonly ohms: Sourced<number>;
}

/** Continuous residual current at which the inverter must disconnect. Exactly one of the two forms. */
export interface ResidualRow {
  /** Inverter rating in kVA. */
  readonly above: number;
  readonly atMost?: number;
  readonly milliamps?: Sourced<number>;
  readonly milliampsPerKilovoltampere?: Sourced<number>;
}

/** Read from the top: the first row whose upper end holds the system voltage. The last row has no end. */
export interface InsulationTestRow {
  /** Upper end of the system voltage in V (open-circuit voltage at standard test conditions × 1.25), excluded. */
  readonly below?: number;
  /** The same, included. */
  readonly atMost?: number;
  readonly testVoltage: Sourced<number>;
  readonly minimumOhms: Sourced<number>;
}

/** What the reader must know whenever the pack is used; with `when`, only where its conditions may hold. */
export interface PackNote extends Provenance {
  readonly text: string;
  readonly when?: readonly Condition[];
}
