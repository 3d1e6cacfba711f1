import type { HistoryReading } from "./reading.ts";

export interface InstrumentEnds {
  /** null: no sign of one. */
  readonly ceilingOhms: number | null;
  readonly floorOhms: number | null;
  /** Whether they were stated or concluded from readings that stop there. */
  readonly from: "stated" | "readings" | "none";
}

/** Share of the readings at exactly the largest value from which it counts as the end of the instrument [design choice]. */
const CEILING_SHARE = 0.04;
const CEILING_LEAST = 5;
const LIKELY_CEILING_OHMS = 1e6;

/**
 * Where the instrument stops. A value at its end is censored: the truth is that or more.
 *
 * A largest value that recurs exactly, and more often than any single value below it, is taken for the ceiling. A floor is
 * taken only where it is stated: a series that stops at its smallest value is a fault until somebody says otherwise.
 */
export function instrumentEnds(
  readings: readonly HistoryReading[],
  stated: { readonly ceilingOhms?: number; readonly floorOhms?: number },
): InstrumentEnds {
  const floorOhms = stated.floorOhms ?? null;
  if (stated.ceilingOhms !== undefined) return { ceilingOhms: stated.ceilingOhms, floorOhms, from: "stated" };
  let top = 0;
  let atTop = 0;
  let least = Infinity;
  for (const { ohms } of readings) {
    if (ohms < least) least = ohms;
    if (ohms === top) atTop++;
    else if (ohms > top) {
      top = ohms;
      atTop = 1;
    }
  }
  const recurs = atTop >= CEILING_LEAST && atTop >= CEILING_SHARE * readings.length;
  // Two significant digits already repeat values: the end must be clearly fuller than its neighbours.
  const neighbours = recurs ? readings.filter(({ ohms }) => ohms < top && ohms >= top * 0.97).length : 0;
  // A record that never moves is at its ceiling or stuck; where it is high, the ceiling is the likelier.
  const moves = least < top || top >= LIKELY_CEILING_OHMS;
  const isCeiling = recurs && atTop > 1.5 * neighbours && moves;
  const ceilingOhms = isCeiling ? top : null;
  return { ceilingOhms, floorOhms, from: isCeiling || floorOhms !== null ? "readings" : "none" };
}
