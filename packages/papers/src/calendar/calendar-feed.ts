import type { Site } from "@earthbell/engine";
import { type DueDay, dueDays } from "./due-days.ts";

/** Octets a line of the feed may hold. */
const LINE_OCTETS = 75;

/**
 * Everything due at these sites as an iCalendar feed (RFC 5545), one whole-day event each, in the order of the days. The same
 * sites and day give the same text.
 *
 * @param today  YYYY-MM-DD: the stamp of every event, and the day of what was never done
 * Check: checks/papers-readers, read by another program
 */
export function calendarFeed(sites: readonly Site[], today: string): string {
  const due = sites
    .flatMap((site) => dueDays(site, today))
    .sort((one, other) => compare(one.on, other.on) || compare(one.id, other.id));
  const lines = [
    "BEGIN:VCALENDAR",
    "VERSION:2.0",
    "PRODID:-//Earthbell//Proofs due//EN",
    "CALSCALE:GREGORIAN",
    ...due.flatMap((day) => eventLines(day, today)),
    "END:VCALENDAR",
  ];
  return `${lines.flatMap(folded).join("\r\n")}\r\n`;
}

function compare(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}

function eventLines({ id, on, what, why }: DueDay, today: string): readonly string[] {
  return [
    "BEGIN:VEVENT",
    `UID:${escaped(id)}@earthbell`,
    `DTSTAMP:${plain(today)}T000000Z`,
    `DTSTART;VALUE=DATE:${plain(on)}`,
    `SUMMARY:${escaped(what)}`,
    `DESCRIPTION:${escaped(why)}`,
    "TRANSP:TRANSPARENT",
    "END:VEVENT",
  ];
}

function plain(day: string): string {
  return day.replaceAll("-", "");
}

function escaped(text: string): string {
  return text
    .replace(/[\\;,]/gu, (sign) => `\\${sign}`)
    .replace(/\r\n|\r|\n/gu, "\\n")
    .replace(/\p{Cc}/gu, "");
}

/** A long line as several, each after the first with a space before it; no character is torn apart. */
function folded(line: string): readonly string[] {
  const lines: string[] = [];
  let current = "";
  let octets = 0;
  for (const character of line) {
    const size = octetsOf(character);
    if (octets + size > LINE_OCTETS) {
      lines.push(current);
      current = " ";
      octets = 1;
    }
    current += character;
    octets += size;
  }
  return [...lines, current];
}

function octetsOf(character: string): number {
  const codePoint = character.codePointAt(0)!;
  return codePoint < 0x80 ? 1 : codePoint < 0x800 ? 2 : codePoint < 0x1_0000 ? 3 : 4;
}
