import type { Path, Proof } from "../assess/site.ts";
import { arraysServed, proofsOf, type PathContext } from "./context.ts";
import { figure, type Remark } from "./judgement.ts";

/** How long a proof holds: twelve months (design choice; no standard seen sets an interval). */
export const PROOF_HOLDS_MONTHS = 12;
const SLOW_ACKNOWLEDGEMENT_MINUTES = 24 * 60;

/** The calendar date `months` later; the 29th to 31st fall back to the last day of a shorter month. */
export function monthsLater(date: string, months: number): string {
  const [year, month, day] = date.split("-").map(Number) as [number, number, number];
  const target = new Date(Date.UTC(year, month - 1 + months, 1));
  const lastDay = new Date(Date.UTC(target.getUTCFullYear(), target.getUTCMonth() + 1, 0)).getUTCDate();
  target.setUTCDate(Math.min(day, lastDay));
  return target.toISOString().slice(0, 10);
}

function ageRemarks(newest: Proof, path: Path, context: PathContext): readonly Remark[] {
  const { onDate } = context;
  const changed = arraysServed(path, context)
    .flatMap((array) => [array.installed, array.altered])
    .filter((date): date is string => date !== undefined && date > newest.on)
    .sort();
  if (changed.length > 0) {
    const text = `The array was installed or altered on ${changed.at(-1)!}, after the proof of ${newest.on}. Prove the path again.`;
    return [{ code: "PATH_PROOF_BEFORE_ALTERATION", text }];
  }
  if (onDate === undefined) {
    const text = `The ${newest.kind} of ${newest.on} was taken as current, as no date was given to judge it by.`;
    return [{ code: "PATH_PROOF_AGE_UNKNOWN", text }];
  }
  if (newest.on > onDate) {
    return [
      {
        code: "PATH_PROOF_DATE_AHEAD",
        text: `The proof is dated ${newest.on}, after ${onDate}. Correct it.`,
      },
    ];
  }
  const due = monthsLater(newest.on, PROOF_HOLDS_MONTHS);
  if (onDate > due) {
    const text = `The newest proof is the ${newest.kind} of ${newest.on}; it was due again by ${due}. Repeat it.`;
    return [{ code: "PATH_PROOF_OLD", text }];
  }
  return [
    {
      code: "PATH_PROOF_CURRENT",
      text: `Proved by the ${newest.kind} of ${newest.on}; due again by ${due}.`,
    },
  ];
}

/**
 * Whether the path was proved, recently, as it now stands, and by somebody acknowledging.
 *
 * A message counts as proved only when its newest proof says how long an acknowledgement took; an annunciator or an
 * indicator is proved by whoever stood there.
 */
export function judgeProof(path: Path, context: PathContext): readonly Remark[] {
  const proofs = proofsOf(path, context);
  const newest = proofs[0];
  if (newest === undefined) {
    const text = `No drill and no test resistor is on record for path ${path.id}. Raise the alarm end to end and record it.`;
    return [{ code: "PATH_PROOF_MISSING", text }];
  }
  const remarks: Remark[] = [...ageRemarks(newest, path, context)];
  const acknowledged = newest.acknowledgedAfter;
  if (acknowledged === undefined && path.signal === "message") {
    const text = `Nobody is recorded as having acknowledged the ${newest.kind} of ${newest.on}. Repeat it and record the time.`;
    remarks.push({ code: "PATH_PROOF_UNACKNOWLEDGED", text });
  }
  if (acknowledged !== undefined && acknowledged > SLOW_ACKNOWLEDGEMENT_MINUTES) {
    const text = `The ${newest.kind} of ${newest.on} was acknowledged after ${figure(acknowledged / 60)} h.`;
    remarks.push({ code: "PATH_PROOF_SLOW", text, figures: { acknowledgedAfterHours: acknowledged / 60 } });
  }
  if (proofs.every((proof) => proof.kind !== "test-resistor")) {
    const text =
      "The proofs on record are drills of the signal; no test resistor has shown that the detector operates.";
    remarks.push({ code: "PATH_PROOF_DETECTOR_NOT_TESTED", text });
  }
  return remarks;
}
