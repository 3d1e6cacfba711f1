import type { AbsenceForm } from "./absence-fields.tsx";
import type { HoursForm } from "./hours-fields.tsx";
import { hoursOf, kindOf, rowsOf } from "./hours-rows.ts";
import type { Change, Entry } from "./told-records.ts";

/** Habits of a person as they are typed, for one site or for all. */
export interface HabitsForm {
  readonly hours: HoursForm;
  readonly looks: string;
  readonly until: string;
  readonly absences: AbsenceForm;
}

/** What is alike at all of these; undefined where they differ. */
function alike<Value>(values: readonly Value[]): Value | undefined {
  return values.every((value) => value === values[0]) ? values[0] : undefined;
}

export function formOf(entries: readonly Entry[]): HabitsForm {
  const reads = alike(entries.map((entry) => entry.reads));
  return {
    hours: {
      kind: reads === undefined ? "stays" : kindOf(reads),
      rows: reads !== undefined && reads !== null && kindOf(reads) === "some" ? rowsOf(reads) : [],
    },
    looks: String(alike(entries.map((entry) => entry.checksPerDay)) ?? ""),
    until: alike(entries.map((entry) => entry.until)) ?? "",
    absences: { removed: [], added: [] },
  };
}

/** What was changed in the form; null where nothing was. */
export function changeOf(begun: HabitsForm, now: HabitsForm): Change | null {
  const reads = hoursText(now.hours);
  const looks = now.looks.trim().replace(",", ".");
  const { removed, added } = now.absences;
  const change: Change = {
    ...(reads === undefined || reads === hoursText(begun.hours) ? {} : { reads }),
    // What is no number is sent as it is: the desk names it.
    ...(looks === begun.looks ? {} : { checksPerDay: looks === "" ? null : Number(looks) }),
    ...(now.until === begun.until ? {} : { until: now.until === "" ? null : now.until }),
    ...(removed.length === 0 ? {} : { awayRemoved: removed }),
    ...(added.length === 0 ? {} : { awayAdded: added }),
  };
  return Object.keys(change).length === 0 ? null : change;
}

/** undefined: they are not touched. */
function hoursText({ kind, rows }: HoursForm): string | null | undefined {
  switch (kind) {
    case "stays":
      return undefined;
    case "unknown":
      return null;
    case "some":
      return hoursOf(rows);
    case "always":
    case "never":
      return kind;
  }
}
