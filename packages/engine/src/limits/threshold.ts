import type { Sourced } from "../provenance.ts";
import type { ThresholdTable } from "../rules/pack.ts";

/** A threshold by one reading of the table's rating, and by the other one where it differs. */
export interface Threshold {
  readonly ohms: Sourced<number>;
  readonly rating: "array-kilowatts" | "inverter-kilovoltamperes";
  readonly otherwise?: { readonly ohms: Sourced<number>; readonly rating: Threshold["rating"] };
}

/**
 * Insulation resistance below which the alarm must operate, from a pack's table.
 *
 * @param arrayKilowatts  rated power of the array [kW], > 0
 * @param inverterKilovoltamperes  rating of its inverter [kVA], > 0
 * Source: the pack's rows, each with its tag. Check: checks/insulation-threshold
 */
export function insulationThreshold(
  table: ThresholdTable,
  arrayKilowatts: number,
  inverterKilovoltamperes: number,
): Threshold | null {
  const ratings = {
    "array-kilowatts": arrayKilowatts,
    "inverter-kilovoltamperes": inverterKilovoltamperes,
  } as const;
  const rating = table.rating.value;
  const other = rating === "array-kilowatts" ? "inverter-kilovoltamperes" : "array-kilowatts";
  const ohms = thresholdAt(table, ratings[rating]);
  if (ohms === null) return null;
  const otherOhms = thresholdAt(table, ratings[other]);
  return otherOhms === null || otherOhms.value === ohms.value
    ? { ohms, rating }
    : { ohms, rating, otherwise: { ohms: otherOhms, rating: other } };
}

/** The row that holds a rating: above its lower end, at most its upper end. */
export function thresholdAt(table: ThresholdTable, rating: number): Sourced<number> | null {
  const row = table.rows.find(
    (candidate) => rating > candidate.above && rating <= (candidate.atMost ?? Infinity),
  );
  return row?.ohms ?? null;
}
