import { createHash } from "node:crypto";
import type { Person, Site } from "@earthbell/engine";
import { editPeopleText, formatHours, type InputFault, type PersonChange, readSite } from "@earthbell/model";
import type { Asking } from "../store/index.ts";
import type { ToldEntry } from "./told-entry.ts";
import { FIELD_OF, sameWay, type ToldChannel } from "./told-people.ts";

/** A change of somebody at many sites. What is left out stays; null says that the file is not to say it. */
export interface WantedChange {
  readonly reads?: Person["reads"] | null | undefined;
  readonly checksPerDay?: number | null | undefined;
  readonly until?: string | null | undefined;
  readonly awayAdded?: NonNullable<Person["away"]> | undefined;
  readonly awayRemoved?: NonNullable<Person["away"]> | undefined;
  readonly address?:
    | { readonly channel: ToldChannel; readonly from: string; readonly to: string }
    | undefined;
}

export interface ChangeWords {
  readonly person: string;
  readonly what: string;
  readonly before: string | null;
  readonly now: string | null;
}

/** A change of one site file. */
export interface PlannedSite {
  readonly site: string;
  readonly revision: number;
  readonly before: string;
  readonly text: string;
  /** The file is written anew and its remarks are lost. */
  readonly rewritten: boolean;
  readonly changes: readonly ChangeWords[];
}

export type PlannedChange =
  | {
      readonly ok: true;
      readonly sites: readonly PlannedSite[];
      /** Sites that say so already. */
      readonly unchanged: number;
      /** Tells this plan from one of other revisions. */
      readonly seen: string;
    }
  | { readonly ok: false; readonly faults: readonly InputFault[] };

/** What a change of these entries comes to in the text of each site file. Nothing is changed. */
export async function planChange(
  db: Asking,
  entries: readonly ToldEntry[],
  wanted: WantedChange,
): Promise<PlannedChange> {
  const sites: PlannedSite[] = [];
  const faults: InputFault[] = [];
  const bySite = new Map<string, readonly ToldEntry[]>();
  for (const entry of entries) bySite.set(entry.site, [...(bySite.get(entry.site) ?? []), entry]);
  for (const [id, own] of bySite) {
    const changed = own.map(({ person }) => changeOf(person, wanted)).filter(({ words }) => words.length > 0);
    const row =
      changed.length === 0
        ? undefined
        : await db
            .selectFrom("site")
            .select(["text", "site_json", "revision"])
            .where("id", "=", id)
            .where("removed_at", "is", null)
            .executeTakeFirst();
    if (row === undefined) continue;
    const site = JSON.parse(row.site_json) as Site;
    const edited = editPeopleText(
      row.text,
      site,
      changed.map(({ change }) => change),
    );
    const read = readSite(edited.text, `${id}.yaml`);
    if (!read.ok) faults.push(...read.faults);
    const changes = changed.flatMap(({ words }) => words);
    sites.push({ site: id, revision: row.revision, before: row.text, ...edited, changes });
  }
  if (faults.length > 0) return { ok: false, faults };
  return { ok: true, sites, unchanged: bySite.size - sites.length, seen: seenOf(sites) };
}

function seenOf(sites: readonly PlannedSite[]): string {
  const hash = createHash("sha256");
  for (const { site, text, revision } of sites) hash.update(JSON.stringify([site, revision, text]));
  return hash.digest("hex");
}

interface PersonPlan {
  readonly change: PersonChange;
  readonly words: readonly ChangeWords[];
}

function changeOf(person: Person, wanted: WantedChange): PersonPlan {
  const words: ChangeWords[] = [];
  const change: { -readonly [Key in keyof PersonChange]: PersonChange[Key] } = { person: person.id };
  const note = (what: string, before: string | null, now: string | null): boolean => {
    if (before !== now) words.push({ person: person.id, what, before, now });
    return before !== now;
  };
  const { reads, checksPerDay, until, address } = wanted;
  if (reads !== undefined && note("reads", hoursText(person.reads), hoursText(reads))) change.reads = reads;
  if (
    checksPerDay !== undefined &&
    note("looks a day", numberText(person.checksPerDay), numberText(checksPerDay))
  )
    change.checksPerDay = checksPerDay;
  if (until !== undefined && note("last day", person.until ?? null, until)) change.until = until;
  const away = awayAfter(person.away ?? [], wanted);
  if (note("away", awayText(person.away ?? []), awayText(away))) change.away = away;
  const before = address && person.address?.[FIELD_OF[address.channel]];
  if (
    address !== undefined &&
    before !== undefined &&
    isAt(before, address) &&
    note("address", before, address.to)
  )
    change.address = { way: FIELD_OF[address.channel], to: address.to };
  return { change, words };
}

function isAt(address: string, { channel, from }: NonNullable<WantedChange["address"]>): boolean {
  return sameWay({ channel, address }) === sameWay({ channel, address: from });
}

type Absences = NonNullable<Person["away"]>;

function awayAfter(away: Absences, { awayAdded = [], awayRemoved = [] }: WantedChange): Absences {
  const is = (one: Absences[number]) => (other: Absences[number]) =>
    one.from === other.from && one.to === other.to;
  const kept = away.filter((one) => !awayRemoved.some(is(one)));
  const added = awayAdded.filter((one) => !kept.some(is(one)));
  return added.length === 0 ? kept : [...kept, ...added].toSorted((a, b) => (a.from < b.from ? -1 : 1));
}

function awayText(away: Absences): string | null {
  return away.length === 0 ? null : away.map(({ from, to }) => `${from} to ${to}`).join(", ");
}

function hoursText(hours: Person["reads"] | null): string | null {
  return hours === undefined || hours === null ? null : formatHours(hours);
}

function numberText(value: number | null | undefined): string | null {
  return value === undefined || value === null ? null : String(value);
}
