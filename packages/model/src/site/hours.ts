import type { WeeklyHours } from "@earthbell/engine";

const DAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"] as const;
const DAY_MINUTES = 1440;
const WEEK_MINUTES = 7 * DAY_MINUTES;

export type HoursResult =
  | { readonly ok: true; readonly hours: WeeklyHours }
  | { readonly ok: false; readonly message: string };

interface Span {
  readonly fromMinute: number;
  readonly toMinute: number;
}

const CLOCK = String.raw`(\d{1,2}):(\d{2})`;
const DAY = String.raw`([A-Z][a-z]{2})`;
const DAILY = new RegExp(`^(?:${DAY}(?:-${DAY})?\\s+)?${CLOCK}\\s*-\\s*${CLOCK}$`, "u");
const ACROSS_DAYS = new RegExp(`^${DAY}\\s+${CLOCK}\\s*-\\s*${DAY}\\s+${CLOCK}$`, "u");

/**
 * Reads hours of the week: "Mon-Fri 07:00-17:00", "Mon-Sun 05:00-10:00, 15:00-19:00", "Sat 22:00-Sun 06:00", "always", "never".
 *
 * Parts are separated by commas; a part without days has those of the part before it, or every day. Hours that end at or
 * before they begin run past midnight (22:00-06:00). Days may wrap (Sat-Mon). What overlaps is joined.
 */
export function parseHours(text: string): HoursResult {
  const trimmed = text.trim().replace(/[\u2012-\u2015\u2212]/gu, "-");
  if (trimmed === "always") return { ok: true, hours: [{ fromMinute: 0, toMinute: WEEK_MINUTES }] };
  if (trimmed === "never") return { ok: true, hours: [] };
  if (trimmed === "") return { ok: false, message: "No hours are written." };
  const spans: Span[] = [];
  let days: readonly number[] = [0, 1, 2, 3, 4, 5, 6];
  for (const part of trimmed.split(",")) {
    const read = readPart(part.trim(), days);
    if (typeof read === "string") return { ok: false, message: read };
    days = read.days;
    spans.push(...read.spans);
  }
  return { ok: true, hours: joined(spans) };
}

function readPart(
  part: string,
  before: readonly number[],
): { days: readonly number[]; spans: Span[] } | string {
  const across = ACROSS_DAYS.exec(part);
  if (across) return readAcross(across);
  const daily = DAILY.exec(part);
  if (!daily)
    return part === ""
      ? "A comma stands without hours beside it."
      : `"${part.slice(0, 40)}" does not name days and hours.`;
  const days = daily[1] === undefined ? before : daysBetween(daily[1], daily[2] ?? daily[1]);
  if (days.length === 0) return `"${part}" needs its days.`;
  const from = minuteOf(daily[3]!, daily[4]!);
  const to = minuteOf(daily[5]!, daily[6]!);
  if (typeof days === "string") return days;
  if (from === null || to === null || from === DAY_MINUTES) return `"${part}" has an hour that no day has.`;
  if (from === to) return `"${part}" begins and ends at the same minute; write 00:00-24:00 for a whole day.`;
  const length = to > from ? to - from : to + DAY_MINUTES - from;
  return { days, spans: days.map((day) => spanFrom(day * DAY_MINUTES + from, length)) };
}

function readAcross(match: RegExpExecArray): { days: readonly number[]; spans: Span[] } | string {
  const days = daysBetween(match[1]!, match[4]!);
  if (typeof days === "string") return days;
  const from = minuteOf(match[2]!, match[3]!);
  const to = minuteOf(match[5]!, match[6]!);
  if (from === null || to === null || from === DAY_MINUTES)
    return `"${match[0]}" has an hour that no day has.`;
  const start = days[0]! * DAY_MINUTES + from;
  const end = days.at(-1)! * DAY_MINUTES + to;
  const length = (((end - start) % WEEK_MINUTES) + WEEK_MINUTES) % WEEK_MINUTES;
  if (length === 0)
    return `"${match[0]}" begins and ends at the same minute; write always for the whole week.`;
  return { days: [], spans: [spanFrom(start, length)] };
}

function spanFrom(fromMinute: number, length: number): Span {
  return { fromMinute, toMinute: fromMinute + length };
}

function daysBetween(first: string, last: string): readonly number[] | string {
  const [from, to] = [DAYS.indexOf(first as "Mon"), DAYS.indexOf(last as "Mon")];
  if (from === -1 || to === -1)
    return `${from === -1 ? first : last} is not a day; write ${DAYS.join(", ")}.`;
  const length = ((to - from + 7) % 7) + 1;
  return Array.from({ length }, (_, step) => (from + step) % 7);
}

function minuteOf(hours: string, minutes: string): number | null {
  const minute = Number(hours) * 60 + Number(minutes);
  return Number(minutes) < 60 && minute <= DAY_MINUTES ? minute : null;
}

/** Cuts spans at the end of the week, sorts them and joins what overlaps or touches. */
function joined(spans: readonly Span[]): WeeklyHours {
  const inWeek = spans.flatMap(({ fromMinute, toMinute }) =>
    toMinute <= WEEK_MINUTES
      ? [{ fromMinute, toMinute }]
      : [
          { fromMinute, toMinute: WEEK_MINUTES },
          { fromMinute: 0, toMinute: toMinute - WEEK_MINUTES },
        ],
  );
  const result: Span[] = [];
  for (const span of inWeek.sort((a, b) => a.fromMinute - b.fromMinute)) {
    const last = result.at(-1);
    if (last && span.fromMinute <= last.toMinute)
      result[result.length - 1] = spanFrom(
        last.fromMinute,
        Math.max(last.toMinute, span.toMinute) - last.fromMinute,
      );
    else result.push(span);
  }
  return result;
}

/** Prints hours so that `parseHours` reads the same: days with equal hours are put together. */
export function formatHours(hours: WeeklyHours): string {
  if (hours.length === 0) return "never";
  if (hours.length === 1 && hours[0]!.toMinute - hours[0]!.fromMinute === WEEK_MINUTES) return "always";
  const ofDay = DAYS.map((_, day) => hoursOfDay(hours, day));
  const parts: string[] = [];
  for (let day = 0; day < 7; day++) {
    const text = ofDay[day]!;
    if (text === "") continue;
    let last = day;
    while (last < 6 && ofDay[last + 1] === text) last++;
    parts.push(`${DAYS[day]!}${last > day ? `-${DAYS[last]!}` : ""} ${text}`);
    day = last;
  }
  return parts.join(", ");
}

function hoursOfDay(hours: WeeklyHours, day: number): string {
  const start = day * DAY_MINUTES;
  return hours
    .map(
      ({ fromMinute, toMinute }) =>
        [Math.max(fromMinute - start, 0), Math.min(toMinute - start, DAY_MINUTES)] as const,
    )
    .filter(([from, to]) => to > from)
    .map(([from, to]) => `${clock(from)}-${clock(to)}`)
    .join(", ");
}

function clock(minute: number): string {
  return `${String(Math.floor(minute / 60)).padStart(2, "0")}:${String(minute % 60).padStart(2, "0")}`;
}
