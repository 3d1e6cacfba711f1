/** How long what was made sure of, or read, on a visit stands before it is asked for again [design choice]. */
const STANDING_HOURS = 4;

/** Whether something done at `at` still counts now. What lies in the future, by a clock that was set back, does not. */
export function stands(at: string | undefined, now: string): boolean {
  if (at === undefined) return false;
  const hours = (Date.parse(now) - Date.parse(at)) / 3_600_000;
  return hours >= 0 && hours <= STANDING_HOURS;
}
