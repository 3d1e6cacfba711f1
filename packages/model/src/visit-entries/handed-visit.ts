import type { Visit } from "@earthbell/engine";
import type { VisitEntry } from "./visit-entry.ts";

/** What a visit is about, settled when it begins. */
export interface VisitBeginning {
  readonly title: string;
  /** The site at the desk, and the case for which somebody went there. */
  readonly site: string;
  readonly case: string | null;
  /** ms since 1970, UTC, by the clock of the device. */
  readonly begunAt: number;
  /** The circuit and the instruments, without readings. */
  readonly setUp: Visit;
}

/** A photo as the desk has it. */
export interface HandedPhoto {
  readonly id: string;
  readonly name: string;
  readonly takenAt: number;
  readonly mediaType: string;
  readonly bytes: number;
  /** SHA-256, hexadecimal. */
  readonly digest: string;
  readonly by: string;
}

/** A visit as the desk has it: everybody's entries. */
export interface HandedVisit extends VisitBeginning {
  readonly id: string;
  readonly by: string;
  readonly entries: readonly VisitEntry[];
  readonly photos: readonly HandedPhoto[];
}
