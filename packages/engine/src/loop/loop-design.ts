import type { AlarmLoop } from "../assess/site.ts";
import type { Amperes, Volts } from "../quantity/index.ts";

/** The inverter's contact as its data sheet rates it for direct current. */
export interface ContactRating {
  readonly voltage: Volts;
  readonly current: Amperes;
}

/** A parts list and a cable run to be approved or repaired. */
export interface LoopRequest {
  readonly loop: AlarmLoop;
  readonly contact: ContactRating;
  /** Hours at rest the battery must give before it can still sound [h]; default 24. */
  readonly standbyHours?: number;
  /** Hours of sounding after that [h]; default 0.5. */
  readonly alarmHours?: number;
}

/** A relay between the inverter's contact and the load, its coil with a diode. */
export interface InterposingRelay {
  readonly coilV: number;
  readonly coilA: number;
  /** Least direct-current rating of its contact. */
  readonly contactA: number;
  readonly contactV: number;
}

/** What the supervision unit sees across the line, in each state of the loop [V]. */
export interface Band {
  readonly state: "short" | "normal" | "open";
  readonly lowV: number;
  readonly highV: number;
}

/** End-of-line supervision: a resistor at the far end, watched through a series resistor of the same kind. */
export interface EndOfLine {
  readonly ohms: number;
  readonly seriesOhms: number;
  readonly watts: number;
  readonly bands: readonly Band[];
  /** Smallest distance between two neighbouring bands [V]; above 0 the states are told apart. */
  readonly gapV: number;
}

/** One change to the parts as given, with its reason. */
export interface LoopChange {
  readonly part: "cable" | "relay" | "diode" | "fuse" | "battery" | "end-of-line";
  readonly from: string;
  readonly to: string;
  readonly why: string;
}

/** One line of the bill of materials: by rating, never by make. */
export interface LoopPart {
  readonly quantity: number;
  readonly item: string;
  readonly rating: string;
}

export interface LoopFigures {
  /** Battery at its end, cable hot, 0.1 Ω in the contact, end-of-line resistor in place [V]. */
  readonly loadVoltage: number;
  readonly loopOhms: number;
  /** Battery capacity needed [Ah]. */
  readonly batteryAh: number;
  /** Current from the supply while sounding [A]. */
  readonly alarmA: number;
}

export interface LoopDesign {
  /** Nothing had to be changed and nothing is left open. */
  readonly approved: boolean;
  /** The loop as it should be built. */
  readonly loop: AlarmLoop;
  readonly contact: ContactRating;
  readonly relay: InterposingRelay | null;
  readonly endOfLine: EndOfLine | null;
  readonly changes: readonly LoopChange[];
  /** What no change of parts mends, or what is missing, in plain words with the next step. */
  readonly unsolved: readonly string[];
  readonly figures: LoopFigures | null;
  readonly parts: readonly LoopPart[];
}
