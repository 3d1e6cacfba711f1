import { formatHours, localTime } from "@earthbell/model";
import type { BrokenWayTable } from "../store/index.ts";
import type { ChannelKind } from "../tell/channel.ts";
import type { ToldEntry } from "./told-entry.ts";
import type { ToldPerson, ToldWay } from "./told-people.ts";

interface WayView extends ToldWay {
  /** This desk has a channel for it. */
  readonly used: boolean;
  readonly broken: { readonly sinceAt: number; readonly reason: string } | null;
}

interface AbsenceView {
  readonly from: string;
  readonly to: string;
  readonly now: boolean;
  /** Entries of site files in which it stands. */
  readonly sites: number;
}

/** Hours and habits, with the number of entries that have them alike. */
interface HabitsView {
  readonly reads: string | null;
  readonly checksPerDay: number | null;
  readonly sites: number;
}

interface EndView {
  readonly until: string;
  readonly past: boolean;
  readonly sites: number;
}

export interface PersonView {
  /** Site and id of the first entry: the person's address in the app. */
  readonly of: { readonly site: string; readonly person: string };
  readonly ids: readonly string[];
  readonly roles: readonly string[];
  readonly ways: readonly WayView[];
  readonly sites: number;
  readonly paths: number;
  /** Paths on which nobody else stands. */
  readonly aloneOn: readonly { readonly site: string; readonly path: string }[];
  readonly habits: readonly HabitsView[];
  /** Zones in which the hours and days are meant. */
  readonly zones: readonly string[];
  readonly away: readonly AbsenceView[];
  readonly until: readonly EndView[];
}

/** What people are looked at with. */
export interface Around {
  /** The day that it is in a zone, YYYY-MM-DD. */
  readonly today: (zone: string) => string;
  /** By channel and address, as they are spelled. */
  readonly broken: ReadonlyMap<string, BrokenWayTable>;
  readonly channels: readonly ChannelKind[];
}

export function around(
  now: number,
  rows: readonly BrokenWayTable[],
  channels: readonly ChannelKind[],
): Around {
  const days = new Map<string, string>();
  const today = (zone: string): string => {
    const day = days.get(zone) ?? localTime(now, zone).date;
    days.set(zone, day);
    return day;
  };
  return { today, broken: new Map(rows.map((row) => [nameOf(row), row])), channels };
}

function nameOf({ channel, address }: { readonly channel: string; readonly address: string }): string {
  return `${channel} ${address}`;
}

/** Whether somebody needs to be looked at first: an address that reaches nobody, then an absence or a post that has ended. */
export function concernOf(
  { entries, ways }: ToldPerson,
  { today, broken }: Around,
): "broken" | "away" | null {
  if (ways.some((way) => broken.has(nameOf(way)))) return "broken";
  const away = entries.some(({ person, zone }) => {
    const day = today(zone);
    const ended = person.until !== undefined && day > person.until;
    return ended || (person.away ?? []).some(({ from, to }) => from <= day && day <= to);
  });
  return away ? "away" : null;
}

export function personView({ entries, ways }: ToldPerson, { today, broken, channels }: Around): PersonView {
  const first = entries[0]!;
  return {
    of: { site: first.site, person: first.person.id },
    ids: distinct(entries.map(({ person }) => person.id)),
    roles: distinct(entries.flatMap(({ person }) => person.role ?? [])),
    ways: ways.map((way) => {
      const row = broken.get(nameOf(way));
      return {
        ...way,
        used: channels.includes(way.channel),
        broken: row === undefined ? null : { sinceAt: row.since_at, reason: row.reason },
      };
    }),
    sites: new Set(entries.map(({ site }) => site)).size,
    paths: entries.reduce((sum, { paths }) => sum + paths.length, 0),
    aloneOn: entries.flatMap(({ site, paths }) =>
      paths.filter(({ others }) => others.length === 0).map(({ path }) => ({ site, path })),
    ),
    habits: counted(entries.map(habitsOf)),
    zones: distinct(entries.map(({ zone }) => zone)),
    away: counted(entries.flatMap((entry) => absencesOf(entry, today))).toSorted((a, b) =>
      a.from < b.from ? -1 : 1,
    ),
    until: counted(entries.flatMap((entry) => endOf(entry, today))),
  };
}

function distinct(all: readonly string[]): readonly string[] {
  return [...new Set(all)];
}

/** What is alike once, with how often it stands there; the most frequent first. */
function counted<View extends object>(all: readonly View[]): (View & { readonly sites: number })[] {
  const byText = new Map<string, View & { readonly sites: number }>();
  for (const one of all) {
    const text = JSON.stringify(one);
    byText.set(text, { ...one, sites: (byText.get(text)?.sites ?? 0) + 1 });
  }
  return [...byText.values()].toSorted((a, b) => b.sites - a.sites);
}

function habitsOf({ person: { reads, checksPerDay } }: ToldEntry): Omit<HabitsView, "sites"> {
  return { reads: reads === undefined ? null : formatHours(reads), checksPerDay: checksPerDay ?? null };
}

function absencesOf(
  { person, zone }: ToldEntry,
  today: Around["today"],
): readonly Omit<AbsenceView, "sites">[] {
  const day = today(zone);
  return (person.away ?? []).map(({ from, to }) => ({ from, to, now: from <= day && day <= to }));
}

function endOf(
  { person: { until }, zone }: ToldEntry,
  today: Around["today"],
): readonly Omit<EndView, "sites">[] {
  return until === undefined ? [] : [{ until, past: today(zone) > until }];
}
