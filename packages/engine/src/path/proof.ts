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

/** What a proof was, in words. */
const proofWords: Readonly<Record<Proof["kind"], string>> = {
  drill: "drill",
  "test-resistor": "test with a resistor",
};

function ageRemarks(newest: Proof, path: Path, context: PathContext): readonly Remark[] {
  const { onDate } = context;
  const changed = arraysServed(path, context)
    .flatMap((array) => [array.installed, array.altered])
    .filter((date): date is string => date !== undefined && date > newest.on)
    .sort();
  if (changed.length > 0) {
    const text = `Work was done on an array of path ${path.id} on ${changed.at(-1)!}, after its newest proof of ${newest.on}, so the path as it now stands is not proved. Prove it again.`;
    return [{ code: "PATH_PROOF_BEFORE_ALTERATION", text }];
  }
  if (onDate === undefined) {
    const text = `The ${proofWords[newest.kind]} of ${newest.on} was taken as current, because no date was given to judge it by. Give the date of the judgement.`;
    return [{ code: "PATH_PROOF_AGE_UNKNOWN", text }];
  }
  if (newest.on > onDate) {
    return [
      {
        code: "PATH_PROOF_DATE_AHEAD",
        text: `The newest proof of path ${path.id} is dated ${newest.on}, after the day of this judgement, ${onDate}, so it cannot have happened yet. Correct its date.`,
      },
    ];
  }
  const due = monthsLater(newest.on, PROOF_HOLDS_MONTHS);
  if (onDate > due) {
    const text = `The newest proof of path ${path.id} is the ${proofWords[newest.kind]} of ${newest.on}, and it was due again by ${due}; people, networks and batteries change meanwhile. Repeat it.`;
    return [{ code: "PATH_PROOF_OLD", text }];
  }
  return [
    {
      code: "PATH_PROOF_CURRENT",
      text: `Path ${path.id} was proved by the ${proofWords[newest.kind]} of ${newest.on}. Repeat it by ${due}.`,
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
    const text = `No drill and no test with a resistor is on record for path ${path.id}, so nobody knows that it works. Raise the alarm from the detector to a person, and record who acknowledged it and when.`;
    return [{ code: "PATH_PROOF_MISSING", text }];
  }
  const remarks: Remark[] = [...ageRemarks(newest, path, context)];
  const acknowledged = newest.acknowledgedAfter;
  if (acknowledged === undefined && path.signal === "message") {
    const text = `Nobody is recorded as having acknowledged the ${proofWords[newest.kind]} of ${newest.on}, so it is not known that a message of path ${path.id} reaches a person. Repeat it and record the minutes until somebody answered.`;
    remarks.push({ code: "PATH_PROOF_UNACKNOWLEDGED", text });
  }
  if (acknowledged !== undefined && acknowledged > SLOW_ACKNOWLEDGEMENT_MINUTES) {
    const text = `The ${proofWords[newest.kind]} of ${newest.on} was acknowledged after ${figure(acknowledged / 60)} h; a fault would have gone on as long. Ask why, change who is told or how, and drill again.`;
    remarks.push({ code: "PATH_PROOF_SLOW", text, figures: { acknowledgedAfterHours: acknowledged / 60 } });
  }
  if (proofs.every((proof) => proof.kind !== "test-resistor")) {
    const text =
      "The proofs on record are drills of the signal: that the detector itself operates is not shown. Where a test resistor is permitted, a licensed person raises the alarm with it at the next visit; otherwise use the maker's own test.";
    remarks.push({ code: "PATH_PROOF_DETECTOR_NOT_TESTED", text });
  }
  return remarks;
}
