import {
  type ArrayLimits,
  detectHour,
  type DetectorState,
  localTime,
  newDetectorState,
  nextLookAt,
  recipientSigns,
  type SunPlace,
  sunOfDay,
  supervise,
  type TellPerson,
} from "@earthbell/model";
import { lightBeacons } from "./beacons.ts";
import { limitsOf } from "./detect-in-sites.ts";
import type { Draft } from "./draft.ts";
import { lookAtDrills, nextDrillLookAt } from "./drills.ts";
import { gather } from "./flood.ts";
import { moveAlarm, takeChanged, takeSign } from "./move-alarm.ts";
import type { Telling } from "./occasions.ts";
import { pendingOf } from "./pending.ts";
import { type BrokenWays, tellPaths, tellPeople } from "./recipients.ts";
import { brokenWays, roundsOf } from "./rounds.ts";
import type { SiteDraft } from "./site-room.ts";
import { tellOfNobody } from "./tell-of-nobody.ts";
import { writeMessages } from "./write-messages.ts";

/** A site is looked at again after this at the latest, whatever the stored instants say. */
const LONGEST_MS = 6 * 3_600_000;
/** And not before this, so that nothing spins. */
const SHORTEST_MS = 1000;

/**
 * Lets time pass at sites up to now, decides who has to be told, and writes the messages and the next instant to look.
 * The same instant again changes nothing.
 *
 * @param gathers  in a flood: addresses that have just had several messages wait, to be told in groups
 */
export async function lookAtSites(
  draft: Draft,
  sites: readonly SiteDraft[],
  telling: Telling,
  { gathers = false }: { readonly gathers?: boolean } = {},
): Promise<void> {
  const broken = await brokenWays(draft.tx);
  const timed = new Map<SiteDraft, readonly number[]>();
  for (const site of sites) timed.set(site, await passTimeAt(draft, site, telling, broken));
  const rounds = await roundsOf(draft, sites, telling.channels, broken);
  await lightBeacons(draft, sites, telling.beacons ?? []);
  await tellOfNobody(draft, sites, rounds, telling);
  const pending = await pendingOf(draft.tx, rounds, telling.channels, draft.now);
  const { written, lookAt } = gathers ? await gather(draft, pending) : { written: pending, lookAt: null };
  await writeMessages(draft, written, telling);
  const told = new Map(sites.map((site) => [site, [] as number[]]));
  for (const { site, round } of rounds) if (round.nextLookAt !== null) told.get(site)!.push(round.nextLookAt);
  const soon = lookAt === null ? [] : [lookAt];
  for (const site of sites) site.lookAt = nextLook(draft, [...timed.get(site)!, ...told.get(site)!, ...soon]);
}

/** @returns the instants at which time alone changes something next */
async function passTimeAt(
  draft: Draft,
  site: SiteDraft,
  telling: Telling,
  broken: BrokenWays,
): Promise<readonly number[]> {
  const hours = lookAtArrays(draft, site);
  const deadlines = lookAtPaths(draft, site, tellPeople(site, telling.channels, broken));
  await lookAtDrills(draft, site, telling, broken);
  const alarms = lookAtAlarms(draft, site);
  return [...hours, ...deadlines, ...nextDrillLookAt(draft, site), ...alarms];
}

function lookAtArrays(draft: Draft, site: SiteDraft): readonly number[] {
  const place = sunPlaceOf(site);
  return site.filed.site.arrays.map(({ id }) => {
    const state = site.detectors.get(id) ?? newDetectorState(site.id, id);
    const limits = withoutFirstDay(draft, site, state, limitsOf(site, id));
    const sun = sunOfDay(localTime(draft.now, limits.zone).date, limits.zone, place);
    const hour = detectHour(state, limits, draft.now, sun);
    if (JSON.stringify(hour.state) !== JSON.stringify(state)) site.detectors.set(id, hour.state);
    for (const sign of hour.signs) takeSign(draft, site, sign);
    return hour.nextLookAt;
  });
}

/** On the day on which a site was put in, a device that has not been heard yet has missed nothing. */
function withoutFirstDay(
  { now }: Draft,
  { filed }: SiteDraft,
  { levels }: DetectorState,
  limits: ArrayLimits,
): ArrayLimits {
  const isFirst = localTime(now, limits.zone).date === localTime(filed.knownSince, limits.zone).date;
  if (!isFirst) return limits;
  const heard = new Set(levels.map(({ device }) => device));
  return { ...limits, morningChecks: limits.morningChecks.filter(({ device }) => heard.has(device)) };
}

export function sunPlaceOf({ filed }: SiteDraft): SunPlace | null {
  const { latitudeDeg, longitudeDeg } = filed.site.place;
  return latitudeDeg === undefined || longitudeDeg === undefined ? null : { latitudeDeg, longitudeDeg };
}

/** Deadlines of links, and addresses that do not reach their people. */
function lookAtPaths(draft: Draft, site: SiteDraft, people: readonly TellPerson[]): readonly number[] {
  for (const watch of site.watches.values()) {
    const supervision = supervise(watch, draft.now, draft.limits);
    site.watches.set(watch.path, supervision.watch);
    if (supervision.sign !== null) takeSign(draft, site, supervision.sign);
  }
  const signs = tellPaths(site).flatMap((path) => recipientSigns(path, people, draft.now));
  for (const sign of signs) takeChanged(draft, site, sign);
  // The last instant in time is the deadline itself.
  return site.watches
    .values()
    .flatMap(({ deadlineAt, silent }) => (deadlineAt === null || silent ? [] : [deadlineAt + 1]));
}

function lookAtAlarms(draft: Draft, site: SiteDraft): readonly number[] {
  for (const alarm of site.alarms.values()) {
    const at = nextLookAt(alarm, draft.limits);
    if (at !== null && at <= draft.now) moveAlarm(draft, site, alarm, { type: "look" }, draft.now);
  }
  return site.alarms.values().flatMap((alarm) => nextLookAt(alarm, draft.limits) ?? []);
}

function nextLook({ now }: Draft, instants: readonly number[]): number {
  return Math.max(Math.min(now + LONGEST_MS, ...instants), now + SHORTEST_MS);
}
