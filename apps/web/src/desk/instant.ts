const FULL = new Intl.DateTimeFormat(undefined, {
  year: "numeric",
  month: "short",
  day: "numeric",
  hour: "2-digit",
  minute: "2-digit",
  timeZoneName: "short",
});

/** An instant in the reader's own zone, which is named. */
export function instantWords(at: number): string {
  return FULL.format(at);
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
