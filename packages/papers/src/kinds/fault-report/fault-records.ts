import { type Finding, locate, type Visit } from "@earthbell/engine";
import {
  type Case,
  type HandedVisit,
  type ReadingEntry,
  readVisit,
  type SignKind,
  standingReadings,
  visitText,
} from "@earthbell/model";

/** A message of a case that was handed over. Instants are milliseconds since 1970, UTC. */
export interface ToldOnRecord {
  readonly person: string;
  readonly path: string;
  readonly kind: string;
  readonly channel: string;
  readonly at: number;
}

/** What a desk has on record of one earth fault, or of one visit that belongs to none. Plain data. */
export interface FaultRecords {
  /** Name under which its report goes. */
  readonly name: string;
  /** zone: of IANA, in which the report tells the time. */
  readonly site: { readonly id: string; readonly name: string | null; readonly zone: string };
  /** null: a visit for no case. */
  readonly case: Case | null;
  /** Signs by which the fault showed itself. */
  readonly signs: readonly SignKind[];
  readonly told: readonly ToldOnRecord[];
  readonly visits: readonly HandedVisit[];
}

/** The readings of a visit from before the repair, or those from after it. */
export interface VisitPart {
  readonly visit: HandedVisit;
  readonly when: "before" | "after";
  readonly readings: readonly ReadingEntry[];
  /** The set-up with these readings. */
  readonly file: Visit;
  /** null: nothing can be calculated. */
  readonly finding: Finding | null;
  readonly because: string | null;
}

/**
 * The visits, the oldest first, each parted at the repair: one visit often finds the place, mends it and measures again.
 * Readings that contradict each other all count until somebody settles them.
 */
export function visitParts({ case: one, visits }: FaultRecords): readonly VisitPart[] {
  const repairedAt = one?.cause?.repairedAt ?? null;
  const isAfter = ({ at }: { readonly at: number }): boolean => repairedAt !== null && at >= repairedAt;
  return visits
    .toSorted((a, b) => a.begunAt - b.begunAt || (a.id < b.id ? -1 : 1))
    .flatMap((visit) => {
      const standing = standingReadings(visit.entries);
      const [before, after] = [standing.filter((entry) => !isAfter(entry)), standing.filter(isAfter)];
      if (after.length === 0) return [partOf(visit, "before", before)];
      const later = partOf(visit, "after", after);
      return before.length === 0 ? [later] : [partOf(visit, "before", before), later];
    });
}

function partOf(visit: HandedVisit, when: VisitPart["when"], readings: readonly ReadingEntry[]): VisitPart {
  const recorded = readings.at(-1)?.recorded ?? visit.setUp.recorded;
  const file: Visit = {
    ...visit.setUp,
    readings: readings.map(({ reading }) => reading),
    ...(recorded === undefined ? {} : { recorded }),
  };
  const part = { visit, when, readings, file };
  if (readings.length === 0) return { ...part, finding: null, because: "No reading is on record." };
  // A device hands over what was typed; whether readings fit the set-up is known only once it is read as a file.
  const read = readVisit(visitText(file), visit.id);
  if (!read.ok)
    return { ...part, finding: null, because: read.faults.map(({ message }) => message).join(" ") };
  return { ...part, finding: locate(file), because: null };
}
