export const DAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"] as const;

/** Hours of the week on days that follow one another; they may run past midnight. */
export interface HoursRow {
  readonly from: string;
  readonly to: string;
  readonly begins: string;
  readonly ends: string;
}

export const OFFICE_HOURS: HoursRow = { from: "Mon", to: "Fri", begins: "09:00", ends: "17:00" };

/** `always`, `never`, or some hours of the week; null where the site file says nothing. */
export type HoursKind = "unknown" | "always" | "never" | "some";

export function kindOf(hours: string | null): HoursKind {
  if (hours === null) return "unknown";
  return hours === "always" || hours === "never" ? hours : "some";
}

/** The rows of hours as the desk writes them: a part without days has those of the part before it. */
export function rowsOf(hours: string): readonly HoursRow[] {
  const rows: HoursRow[] = [];
  for (const part of hours.split(", ")) {
    const [, from, to, begins = "", ends = ""] =
      /^(?:([A-Z][a-z]{2})(?:-([A-Z][a-z]{2}))? )?(\d\d:\d\d)-(\d\d:\d\d)$/u.exec(part) ?? [];
    const before = rows.at(-1);
    rows.push({
      from: from ?? before?.from ?? "Mon",
      to: (from === undefined ? before?.to : (to ?? from)) ?? "Sun",
      begins,
      ends,
    });
  }
  return rows;
}

/** Hours as a site file writes them. */
export function hoursOf(rows: readonly HoursRow[]): string {
  return rows
    .map(
      ({ from, to, begins, ends }) => `${from}${to === from ? "" : `-${to}`} ${begins.trim()}-${ends.trim()}`,
    )
    .join(", ");
}
