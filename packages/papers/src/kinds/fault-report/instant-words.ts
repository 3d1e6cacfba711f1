import { localTime } from "@earthbell/model";

const DAY_MINUTES = 1440;
const MINUTE_MS = 60_000;

/** An instant as the clock on the wall of a zone shows it, with its distance from UTC: `2026-08-14 09:31 +12:00`. */
export function instantIn(zone: string, at: number): string {
  const { date, minuteOfDay } = localTime(at, zone);
  const ahead =
    (Date.parse(`${date}T00:00:00Z`) - Math.floor(at / MINUTE_MS) * MINUTE_MS) / MINUTE_MS + minuteOfDay;
  return `${date} ${clock(minuteOfDay)} ${ahead < 0 ? "−" : "+"}${clock(Math.abs(ahead))}`;
}

function clock(minutes: number): string {
  const within = minutes % DAY_MINUTES;
  const two = (part: number): string => String(part).padStart(2, "0");
  return `${two(Math.floor(within / 60))}:${two(within % 60)}`;
}
