import type { Sourced } from "@earthbell/engine";
import { WATCH_LIMITS, type WatchLimits } from "../limits.ts";
import type { SignKind } from "../sign.ts";
import { daysLater } from "../time/zone.ts";

/** Signs of an array; a path is supervised and rehearsed apart. */
export type ArraySign = Exclude<SignKind, "path-silent" | "drill-missed">;
/** Signs that one reading decides. */
export type ReadingSign = "earth-fault-bit" | "insulation-low" | "residual-trip";
/** Signs that the days together decide. */
export type DaySign = Exclude<ArraySign, ReadingSign>;

/** What one device last said, by one way into the desk, about one sign. */
export interface Level {
  readonly sign: ReadingSign;
  readonly device: string;
  readonly source: string;
  readonly active: boolean;
  /** Instant of the newest reading that spoke of it. */
  readonly at: number;
}

/** Insulation as one device saw it on one local date. */
export interface DayOfChecks {
  readonly date: string;
  readonly device: string;
  readonly lowestOhms: number;
  readonly highestOhms: number;
}

/** What the detectors remember of one array: plain JSON, about five weeks of days at most. */
export interface DetectorState {
  readonly site: string;
  readonly array: string;
  readonly levels: readonly Level[];
  /** Ascending by date. */
  readonly days: readonly DayOfChecks[];
  /** Local dates on which a fault began in the morning, ascending. */
  readonly faultMornings: readonly string[];
  readonly daySigns: Readonly<Record<DaySign, boolean>>;
  /** The last local date on which the morning's check was missed. */
  readonly missedOn: string | null;
}

/** What the detectors of one array go by. */
export interface ArrayLimits {
  /** IANA zone of the site. */
  readonly zone: string;
  /** Ω; null where no rule decides it yet. */
  readonly insulationThreshold: Sourced<number> | null;
  /** Ω at which the instrument stops counting: such a value means "at least". */
  readonly insulationCeiling: Sourced<number> | null;
  /** Devices that are to check every morning, and by which reading. */
  readonly morningChecks: readonly {
    readonly device: string;
    readonly kind: "insulation" | "earth-fault-bit";
  }[];
  readonly watch: WatchLimits;
}

/** An array of which nothing is known yet. */
export const UNKNOWN_ARRAY_LIMITS: Omit<ArrayLimits, "zone"> = {
  insulationThreshold: null,
  insulationCeiling: null,
  morningChecks: [],
  watch: WATCH_LIMITS,
};

export function newDetectorState(site: string, array: string): DetectorState {
  return {
    site,
    array,
    levels: [],
    days: [],
    faultMornings: [],
    daySigns: {
      "dawn-recurring": false,
      "insulation-drifting": false,
      "detector-stuck": false,
      "detector-silent": false,
    },
    missedOn: null,
  };
}

/** Days that are remembered: more than the longest rule looks back. */
const REMEMBERED_DAYS = 35;

function remembered<Entry>(entries: readonly Entry[], dateOf: (entry: Entry) => string): readonly Entry[] {
  const newest = entries.at(-1);
  if (newest === undefined) return entries;
  const oldest = daysLater(dateOf(newest), 1 - REMEMBERED_DAYS);
  return entries.filter((entry) => dateOf(entry) >= oldest);
}

/**
 * Adds an insulation check to its day. The order in which checks arrive does not matter; one that changes nothing gives back
 * the very days it was given.
 */
export function withCheck(
  days: readonly DayOfChecks[],
  date: string,
  device: string,
  ohms: number,
): readonly DayOfChecks[] {
  const old = days.find((day) => day.date === date && day.device === device);
  if (old !== undefined && old.lowestOhms <= ohms && ohms <= old.highestOhms) return days;
  const day: DayOfChecks = {
    date,
    device,
    lowestOhms: Math.min(ohms, old?.lowestOhms ?? ohms),
    highestOhms: Math.max(ohms, old?.highestOhms ?? ohms),
  };
  const sorted = [...days.filter((other) => other !== old), day].sort(byDateAndDevice);
  return remembered(sorted, (entry) => entry.date);
}

function byDateAndDevice(one: DayOfChecks, other: DayOfChecks): number {
  const [left, right] = [`${one.date} ${one.device}`, `${other.date} ${other.device}`];
  return left < right ? -1 : left > right ? 1 : 0;
}

/** Marks a local date as one on which a fault began in the morning. */
export function withFaultMorning(mornings: readonly string[], date: string): readonly string[] {
  if (mornings.includes(date)) return mornings;
  return remembered([...mornings, date].sort(), (entry) => entry);
}

/** Begins the count of mornings anew: once a cause is signed, what was before it is explained. */
export function forgetMornings(state: DetectorState): DetectorState {
  return { ...state, faultMornings: [] };
}

/** Takes a device out of the array's memory: a fault it last reported would stay active for ever once it is removed. */
export function forgetDevice(state: DetectorState, device: string): DetectorState {
  return {
    ...state,
    levels: state.levels.filter((level) => level.device !== device),
    days: state.days.filter((day) => day.device !== device),
  };
}
