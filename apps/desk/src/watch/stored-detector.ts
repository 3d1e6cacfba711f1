import type { DetectorState } from "@earthbell/model";
import type { InsulationDayTable, LastKnownTable } from "../store/index.ts";

const KIND_OF = {
  "earth-fault-bit": "earth-fault-bit",
  "insulation-low": "insulation",
  "residual-trip": "residual-trip",
} as const;

/** The part of a detector's state that is stored as such: its rest moves with every reading and is in tables of its own. */
export function coreOf(state: DetectorState): string {
  const levels = state.levels.map((level) => ({ ...level, at: 0 }));
  return JSON.stringify({ ...state, levels, days: [] });
}

/** Whether two states of one detector are stored alike. */
export function hasSameCore(one: DetectorState, other: DetectorState): boolean {
  const keys = Object.keys(one) as (keyof DetectorState)[];
  const others = keys.filter((key) => key !== "levels" && key !== "days" && one[key] !== other[key]);
  // Parts that no reading has touched are the same objects.
  if (others.length > 0 || one.levels.length !== other.levels.length) return coreOf(one) === coreOf(other);
  return one.levels.every((level, place) => isSameLevel(level, other.levels[place]!));
}

function isSameLevel(one: DetectorState["levels"][number], other: DetectorState["levels"][number]): boolean {
  const { sign, device, source, active } = one;
  return sign === other.sign && device === other.device && source === other.source && active === other.active;
}

/**
 * A detector's state as it was: each level dated by the newest good reading of its kind from its device and way in, the days
 * from the daily insulation of devices that have a level.
 *
 * @param known  last known readings of the site
 * @param days   daily insulation of the site, of at least the weeks that a detector remembers
 */
export function restoreDetector(
  stored: DetectorState,
  known: readonly LastKnownTable[],
  days: readonly InsulationDayTable[],
): DetectorState {
  const levels = stored.levels.map((level) => {
    const instants = known.flatMap((row) =>
      row.device === level.device &&
      row.source === level.source &&
      row.kind === KIND_OF[level.sign] &&
      (row.array_id === "" || row.array_id === stored.array)
        ? (row.good_at ?? [])
        : [],
    );
    return { ...level, at: Math.max(level.at, ...instants) };
  });
  const measuring = new Set(
    levels.flatMap(({ sign, device }) => (sign === "insulation-low" ? [device] : [])),
  );
  const own = days
    .filter(({ array_id, device }) => array_id === stored.array && measuring.has(device))
    .map(({ date, device, lowest_ohms, highest_ohms }) => ({
      date,
      device,
      lowestOhms: lowest_ohms,
      highestOhms: highest_ohms,
    }))
    .toSorted((one, other) => compare(`${one.date} ${one.device}`, `${other.date} ${other.device}`));
  return { ...stored, levels, days: remembered(own) };
}

function compare(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}

/** A detector forgets what is so many days before its newest day. */
const REMEMBERED_DAYS = 35;
const DAY = 86_400_000;

function remembered(days: DetectorState["days"]): DetectorState["days"] {
  const newest = days.at(-1);
  if (newest === undefined) return days;
  const oldest = new Date(Date.parse(`${newest.date}T00:00Z`) - (REMEMBERED_DAYS - 1) * DAY);
  const from = oldest.toISOString().slice(0, 10);
  return days.filter(({ date }) => date >= from);
}
