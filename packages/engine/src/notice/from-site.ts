import type { Path, Person, Site, WeeklyHours } from "../assess/site.ts";
import { intensityOf, LIGHT_DEFAULTS } from "../path/light-reach.ts";
import type { Sourced } from "../provenance.ts";
import { Assumed } from "./assumed.ts";
import { NOTICE_ASSUMPTIONS as assume } from "./assumptions.ts";
import { detectorOf, RULE_OF_PROGRAM } from "./detector-from-site.ts";
import type {
  MessageChannel,
  NoticeChannel,
  NoticeLink,
  NoticeModel,
  NoticeReader,
  SiteChannel,
} from "./notice-model.ts";

/** What the caller has already judged about a path: whether what it gives out is heard or seen at all. */
export interface Perceived {
  readonly path: string;
  readonly perceived: boolean;
}

export interface NoticeFromSite {
  readonly model: NoticeModel;
  /** Values that the site file does not state, in plain words. */
  readonly assumed: readonly string[];
  /** The same, each with where its value comes from. */
  readonly assumptions: readonly Sourced<string>[];
}

export interface FromSiteOptions {
  readonly paths: readonly Path[];
  /** First day of the year of onsets; without it the absences on record are left out. */
  readonly onDate?: string;
  readonly perceived?: readonly Perceived[];
}

/** A year with no leap day stands for any year where no date is given. */
const ANY_YEAR = "2025-01-01";
const DAY = 1440;

const LIGHT_ASSUMED = `the inverter's light gives ${LIGHT_DEFAULTS.indicatorCandela.value} cd`;

const activeMinutes = (hours: WeeklyHours): number =>
  hours.reduce((sum, { fromMinute, toMinute }) => sum + Math.max(0, toMinute - fromMinute), 0);

function activeDays(hours: WeeklyHours): number {
  const days = new Set<number>();
  for (const { fromMinute, toMinute } of hours) {
    for (let day = Math.floor(fromMinute / DAY); day * DAY < toMinute; day++) days.add(day);
  }
  return days.size;
}

/** Chances per minute inside the hours when there are so many on each day that has hours. */
function perMinute(timesPerDay: number, hours: WeeklyHours): number {
  const minutes = activeMinutes(hours);
  return minutes === 0 ? 0 : (timesPerDay * activeDays(hours)) / minutes;
}

function dayAfter(date: string): string {
  return new Date(Date.parse(`${date}T00:00:00Z`) + 86_400_000).toISOString().slice(0, 10);
}

function readerOf(person: Person, onDate: string | undefined, assumed: Assumed): NoticeReader {
  const { id, until, away = [] } = person;
  const hours = assumed.orElse(person.reads, assume.readingHours, `${id} reads Monday to Friday 09:00-17:00`);
  const looks = assumed.orElse(person.checksPerDay, assume.looksPerDay, `${id} looks once a day`);
  const gone =
    until === undefined
      ? []
      : [{ from: onDate === undefined ? "2000-01-01" : dayAfter(until), to: "2200-01-01" }];
  return {
    id,
    hours,
    looksPerMinute: perMinute(looks, hours),
    away: [...(onDate === undefined ? [] : away), ...gone],
    ...(person.timezone === undefined ? {} : { timezone: person.timezone }),
  };
}

function hasAddress({ address }: Person): boolean {
  return [address?.email, address?.phone, address?.webhook].some(
    (value) => value !== undefined && value !== "",
  );
}

type MessagePath = Extract<Path, { signal: "message" }>;

/** Links that state the same figures are one link, and so are those that state none: they fail together. */
function linkOf({ link }: MessagePath, assumed: Assumed): NoticeLink {
  const availability = assumed.orElse<number>(
    link?.availability,
    assume.linkAvailability,
    "the link is up 90 % of the time",
  );
  const meanOutageMin = assumed.orElse<number>(
    link?.meanOutage,
    assume.linkOutageMin,
    "an outage of the link lasts 24 h on average",
  );
  return { id: `${availability} ${meanOutageMin}`, availability, meanOutageMin };
}

function messageChannel(path: MessagePath, site: Site, assumed: Assumed): MessageChannel {
  const readers = path.to.filter((id) =>
    site.people.some((person) => person.id === id && hasAddress(person)),
  );
  const repeatMin = path.repeatEvery ?? null;
  const heeds = repeatMin === null ? assume.neverHeedsSingle : assume.neverHeedsRepeated;
  const never = assumed.orElse(undefined, heeds, `${heeds.value * 100} % of readers never heed the message`);
  return {
    signal: "message",
    id: path.id,
    link: linkOf(path, assumed).id,
    readers,
    repeatMin,
    supervisedMin: path.link?.supervisedEvery ?? null,
    checkAfterSilenceMin: assume.checkAfterSilenceMin.value,
    neverHeeds: never,
  };
}

type AnnunciatorPath = Extract<Path, { signal: "annunciator" }>;

function annunciatorChannel(path: AnnunciatorPath, perceived: boolean, assumed: Assumed): SiteChannel {
  const hours = path.listener?.present ?? [];
  const safe = path.loop?.supervised === true || path.loop?.sense === "de-energise-to-alarm";
  const dead = safe ? assume.loopDeadSupervised : assume.loopDeadUnsupervised;
  const lit = path.loop?.load?.kind === "beacon" || path.loop?.load?.kind === "lamp";
  const reactions = lit
    ? assumed.orElse(
        undefined,
        assume.beaconNoticesPerHour,
        "somebody in view of the beacon notices it twice an hour",
      )
    : assumed.orElse(undefined, assume.reactionsPerHour, "somebody within reach reacts six times an hour");
  assumed.orElse(undefined, dead, `the loop is dead unknown ${dead.value * 100} % of the time`);
  return {
    signal: "annunciator",
    id: path.id,
    hours,
    noticesPerMinute: perceived ? reactions / 60 : 0,
    dead: dead.value,
  };
}

/** Of several inverters on one path the one that is noticed least decides. */
function indicatorChannel(path: Path, site: Site, perceived: boolean, assumed: Assumed): SiteChannel {
  const served = new Set(
    site.arrays.filter((array) => path.arrays.includes(array.id)).map((array) => array.inverter),
  );
  const passes = site.inverters
    .filter((inverter) => served.has(inverter.id))
    .map(({ where }) => (where === undefined || where.accessible === false ? 0 : (where.passesPerDay ?? 0)));
  const hours = assumed.orElse(
    undefined,
    assume.passingHours,
    "people pass the inverter between 07:00 and 19:00",
  );
  const share = assumed.orElse(
    undefined,
    assume.looksAtLightShare,
    "the light is looked at in half of the passes",
  );
  if (
    perceived &&
    !site.inverters.every(({ id, where }) => !served.has(id) || intensityOf(where?.light ?? {}) !== null)
  )
    assumed.add(LIGHT_ASSUMED, LIGHT_DEFAULTS.indicatorCandela);
  const least = passes.length === 0 ? 0 : Math.min(...passes);
  return {
    signal: "indicator",
    id: path.id,
    hours,
    noticesPerMinute: perceived ? perMinute(least * share, hours) : 0,
    dead: 0,
  };
}

function channelOf(path: Path, site: Site, perceived: boolean, assumed: Assumed): NoticeChannel {
  switch (path.signal) {
    case "message":
      return messageChannel(path, site, assumed);
    case "annunciator":
      return annunciatorChannel(path, perceived, assumed);
    case "indicator":
      return indicatorChannel(path, site, perceived, assumed);
  }
}

/**
 * The notice model of a site file for some of its paths, with every value that had to be assumed.
 *
 * A person without an address is left out; so is one whose post ended, or might have where no date is given.
 */
export function noticeFromSite(
  site: Site,
  { paths, onDate, perceived = [] }: FromSiteOptions,
): NoticeFromSite {
  const assumed = new Assumed();
  const messages = paths.filter((path) => path.signal === "message");
  const named = new Set(messages.flatMap((path) => path.to));
  const readers = site.people
    .filter((person) => named.has(person.id) && hasAddress(person))
    .map((person) => readerOf(person, onDate, assumed));
  const channels = paths.map((path) => {
    const heard = perceived.find((judged) => judged.path === path.id)?.perceived ?? true;
    return channelOf(path, site, heard, assumed);
  });
  const links = new Map(messages.map((path) => linkOf(path, assumed)).map((link) => [link.id, link]));
  const { latitudeDeg, longitudeDeg, timezone } = site.place;
  if (latitudeDeg === undefined || longitudeDeg === undefined)
    assumed.add("the sun rises at 06:00", RULE_OF_PROGRAM);
  const model: NoticeModel = {
    ...(latitudeDeg === undefined ? {} : { latitudeDeg }),
    ...(longitudeDeg === undefined ? {} : { longitudeDeg }),
    ...(timezone === undefined ? {} : { timezone }),
    yearFrom: onDate ?? ANY_YEAR,
    onset: {
      dawnWetShare: assume.dawnWetShare.value,
      daylightShare: assume.daylightShare.value,
      dewBeforeSunriseMin: assume.dewBeforeSunriseMin.value,
      dewAfterSunriseMin: assume.dewAfterSunriseMin.value,
    },
    detector: detectorOf(site, paths, assumed),
    links: [...links.values()],
    readers,
    channels,
    siteEmpty: { share: assume.siteEmptyShare.value, lengthMin: assume.siteEmptyMin.value },
    unaware: site.ownerInformed === undefined ? assume.unawareUntold.value : assume.unawareTold.value,
  };
  return { model, assumed: assumed.list.map(({ value }) => value), assumptions: assumed.list };
}
