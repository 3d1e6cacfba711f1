import {
  arraysConcerned,
  type ArrayLimits,
  detectReading,
  localTime,
  newDetectorState,
  type PathWatch,
  signOfLife,
  supervise,
  UNKNOWN_ARRAY_LIMITS,
  type WatchReading,
} from "@earthbell/model";
import type { Draft } from "./draft.ts";
import { takeSign } from "./move-alarm.ts";
import { dayKey, type Filed, type SiteDraft } from "./site-room.ts";
import type { SiteReading } from "./site-reading.ts";

/** Has the detectors look at readings in their order, and takes each as a sign of life of the paths of its arrays. */
export function detectInSites(draft: Draft, readings: readonly SiteReading[]): void {
  const lives = new Map<SiteDraft, Map<string, number>>();
  const limitsAtHand = new Map<SiteDraft, Map<string, ArrayLimits>>();
  for (const { site, reading } of readings) {
    const { arrays, paths } = concernedBy(site.filed, reading);
    const ownLimits = entryOf(limitsAtHand, site, () => new Map<string, ArrayLimits>());
    for (const array of arrays) {
      const limits = entryOf(ownLimits, array, () => limitsOf(site, array));
      const state = site.detectors.get(array) ?? newDetectorState(site.id, array);
      const detection = detectReading(state, reading, limits);
      site.detectors.set(array, detection.state);
      for (const sign of detection.signs) takeSign(draft, site, sign);
      const isFigure = reading.quality === "good" || reading.quality === "past";
      if (reading.kind === "insulation" && isFigure) addToDay(site, array, reading, limits);
    }
    noteLife(lives, site, reading, paths);
  }
  for (const [site, paths] of lives) takeLife(draft, site, paths);
}

interface Entries<Key, Value> {
  get(key: Key): Value | undefined;
  set(key: Key, value: Value): unknown;
}

function entryOf<Key, Value>(map: Entries<Key, Value>, key: Key, make: () => Value): Value {
  const known = map.get(key);
  if (known !== undefined) return known;
  const made = make();
  map.set(key, made);
  return made;
}

/** Arrays that a reading speaks of, and the paths that serve them. */
interface Concerned {
  readonly arrays: readonly string[];
  readonly paths: readonly string[];
}

/** An array that the site file does not name is read as all arrays of the device: a fault must not fall between names. */
export function arraysOf({ filed }: SiteDraft, reading: WatchReading): readonly string[] {
  return concernedBy(filed, reading).arrays;
}

/** By device and array; asked for with every reading, and the same until the file is another one. */
const concernedOfFile = new WeakMap<Filed, Map<string, Map<string | undefined, Concerned>>>();
/** Devices and arrays of which the answer is kept: names come from outside. */
const NAMES_KEPT = 200;

function concernedBy(filed: Filed, reading: WatchReading): Concerned {
  const devices = entryOf(
    concernedOfFile,
    filed,
    () => new Map<string, Map<string | undefined, Concerned>>(),
  );
  if (devices.size > NAMES_KEPT) devices.clear();
  const byArray = entryOf(devices, reading.device, () => new Map<string | undefined, Concerned>());
  if (byArray.size > NAMES_KEPT) byArray.clear();
  return entryOf(byArray, reading.array, () => findConcerned(filed, reading));
}

function findConcerned({ site }: Filed, reading: WatchReading): Concerned {
  const places = site.arrays.map(({ id, inverter }) => ({ array: id, device: inverter }));
  const { array: named, ...unnamed } = reading;
  const isKnown = named === undefined || places.some(({ array }) => array === named);
  const arrays = arraysConcerned(isKnown ? reading : unnamed, places);
  const serving = site.paths.filter((path) => path.arrays.some((array) => arrays.includes(array)));
  return { arrays, paths: serving.map(({ id }) => id) };
}

/**
 * What an array's detectors go by. An inverter that was ever heard to give insulation is expected to give it every
 * morning; until then a word on its earth-fault bit will do.
 */
export function limitsOf({ filed, known }: SiteDraft, array: string): ArrayLimits {
  const limits = filed.limits[array];
  if (limits === undefined) return { ...UNKNOWN_ARRAY_LIMITS, zone: filed.site.place.timezone ?? "UTC" };
  const measures = (device: string) =>
    known.some((row) => row.kind === "insulation" && row.device === device && row.quality === "good");
  const morningChecks = limits.morningChecks.map((check) =>
    check.kind === "earth-fault-bit" && measures(check.device)
      ? ({ device: check.device, kind: "insulation" } as const)
      : check,
  );
  return { ...limits, morningChecks };
}

function noteLife(
  lives: Map<SiteDraft, Map<string, number>>,
  site: SiteDraft,
  reading: WatchReading,
  paths: readonly string[],
): void {
  // A listener that hears nothing passes on what it heard last as stale.
  if (reading.quality === "stale" || reading.quality === "past") return;
  const lastLives = entryOf(lives, site, () => new Map<string, number>());
  for (const path of paths) lastLives.set(path, Math.max(reading.at, lastLives.get(path) ?? reading.at));
}

const MINUTE = 60_000;
/** Signs of life count in such parts of their interval: far less than the grace, and most readings then move no deadline. */
const PARTS_OF_INTERVAL = 100;

function movesOn({ silent, lifeEveryMin, lastLifeAt }: PathWatch, at: number): boolean {
  return silent || at - lastLifeAt >= ((lifeEveryMin ?? 0) * MINUTE) / PARTS_OF_INTERVAL;
}

function takeLife(draft: Draft, site: SiteDraft, paths: ReadonlyMap<string, number>): void {
  for (const [path, at] of paths) {
    const watch = site.watches.get(path);
    if (watch === undefined || watch.lifeEveryMin === null || !movesOn(watch, at)) continue;
    const alive = signOfLife(watch, at, draft.now, draft.limits);
    const supervision = supervise(alive, draft.now, draft.limits);
    site.watches.set(path, supervision.watch);
    if (supervision.sign !== null) takeSign(draft, site, supervision.sign);
  }
}

/** Takes an insulation check into its day; a day that it does not change is not stored again. */
function addToDay(site: SiteDraft, array: string, reading: WatchReading, limits: ArrayLimits): void {
  const ohms = Number(reading.value);
  const { date, minuteOfDay } = localTime(reading.at, limits.zone);
  const key = dayKey({ array_id: array, device: reading.device, date });
  const before = site.days.get(key);
  const morning = minuteOfDay < limits.watch.morningEndsMin.value ? [ohms] : [];
  if (before?.morning_lowest_ohms !== undefined && before.morning_lowest_ohms !== null)
    morning.push(before.morning_lowest_ohms);
  const day = {
    lowest_ohms: Math.min(ohms, before?.lowest_ohms ?? ohms),
    highest_ohms: Math.max(ohms, before?.highest_ohms ?? ohms),
    morning_lowest_ohms: morning.length === 0 ? null : Math.min(...morning),
  };
  const isSame =
    before?.lowest_ohms === day.lowest_ohms &&
    before.highest_ohms === day.highest_ohms &&
    before.morning_lowest_ohms === day.morning_lowest_ohms;
  if (isSame) return;
  site.days.set(key, { site: site.id, array_id: array, device: reading.device, date, ...day });
}
