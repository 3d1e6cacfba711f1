const DAY_AND_TIME = {
  year: "numeric",
  month: "long",
  day: "numeric",
  hour: "2-digit",
  minute: "2-digit",
  hourCycle: "h23",
} as const;

/**
 * An instant as the people of a site and everybody else read it: `1 June 2026 at 07:12 in Europe/Berlin (2026-06-01 05:12
 * UTC)`. UTC alone where the zone is not known to this system, or is UTC.
 */
export function instantWords(at: number, zone: string): string {
  const utc = `${new Date(at).toISOString().slice(0, 16).replace("T", " ")} UTC`;
  const local = localParts(at, zone);
  return local === null ? utc : `${local} in ${zone} (${utc})`;
}

function localParts(at: number, zone: string): string | null {
  if (/^(?:etc\/)?(?:utc|gmt|zulu|universal)$/iu.test(zone)) return null;
  try {
    const format = new Intl.DateTimeFormat("en-GB", { ...DAY_AND_TIME, timeZone: zone });
    const parts = new Map(format.formatToParts(at).map(({ type, value }) => [type, value]));
    const part = (type: Intl.DateTimeFormatPartTypes) => parts.get(type) ?? "";
    return `${part("day")} ${part("month")} ${part("year")} at ${part("hour")}:${part("minute")}`;
  } catch {
    return null;
  }
}

/** `40 s`, `90 min`, `26 h`, `8 d`: rounded down, so that nothing is said to last longer than it did. */
export function lengthWords(ms: number): string {
  const minutes = Math.floor(ms / 60_000);
  if (minutes < 2) return `${Math.max(0, Math.floor(ms / 1000))} s`;
  if (minutes < 120) return `${minutes} min`;
  if (minutes < 2880) return `${Math.floor(minutes / 60)} h`;
  return `${Math.floor(minutes / 1440)} d`;
}
