const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"] as const;
const two = (value: number): string => String(value).padStart(2, "0");

/**
 * An instant in the reader's own zone with its offset: `6 Mar 2026, 07:05 UTC+1`. Not by the browser's formatter, which takes
 * longer to begin than the page.
 */
export function instantWords(at: number): string {
  const local = new Date(at);
  const day = `${String(local.getDate())} ${MONTHS[local.getMonth()]!} ${String(local.getFullYear())}`;
  return `${day}, ${clockWords(at)} ${offsetWords(-local.getTimezoneOffset())}`;
}

/** The time of day of an instant in the reader's own zone: `07:05`. */
export function clockWords(at: number): string {
  const local = new Date(at);
  return `${two(local.getHours())}:${two(local.getMinutes())}`;
}

/** The day of an instant in the reader's own zone, YYYY-MM-DD. */
export function dayOf(at: number): string {
  const local = new Date(at);
  return `${String(local.getFullYear())}-${two(local.getMonth() + 1)}-${two(local.getDate())}`;
}

function offsetWords(minutes: number): string {
  if (minutes === 0) return "UTC";
  const [hours, rest] = [Math.floor(Math.abs(minutes) / 60), Math.abs(minutes) % 60];
  return `UTC${minutes < 0 ? "−" : "+"}${String(hours)}${rest === 0 ? "" : `:${two(rest)}`}`;
}

const UNITS = [
  ["d", 86_400_000],
  ["h", 3_600_000],
  ["min", 60_000],
] as const;

/** `3 h`, rounded down; under a minute is "less than a minute". */
export function durationWords(ms: number): string {
  for (const [unit, length] of UNITS) if (ms >= 2 * length) return `${Math.floor(ms / length)} ${unit}`;
  return ms >= 60_000 ? "1 min" : "less than a minute";
}
