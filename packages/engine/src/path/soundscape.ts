import type { WeeklyHours } from "../assess/site.ts";
import type { DecibelsA, Metres } from "../quantity/index.ts";
import { ABOVE_AMBIENT, GREATEST_LEVEL, LEAST_LEVEL, soundAt } from "./sound.ts";

/** Least level at a bedhead with the doors shut (BS 5839 rationale in trade use, secondary); it does not promise waking. */
export const BEDHEAD_LEVEL = 75;

export interface Sounder {
  /** A-weighted level at 1 m. */
  readonly levelAt1m: DecibelsA;
  readonly distance: Metres;
  /** What each wall or door between takes. */
  readonly barriers: readonly DecibelsA[];
}

/**
 * Several unrelated sounds together, as energies: 10 log₁₀ Σ 10^(L/10).
 *
 * @returns −∞ for none
 * @example two equal levels: 3.01 dB more
 * Check: checks/sound-distance
 */
export function levelsTogether(levels: readonly number[]): DecibelsA {
  const energy = levels.reduce((sum, level) => sum + 10 ** (level / 10), 0);
  return (10 * Math.log10(energy)) as DecibelsA;
}

/** Level of all sounders together at one place. */
export function soundscapeLevel(sounders: readonly Sounder[]): DecibelsA {
  return levelsTogether(
    sounders.map(({ levelAt1m, distance, barriers }) => soundAt(levelAt1m, distance, barriers)),
  );
}

export type Hearing = "heard" | "quiet" | "masked" | "harmful";

/**
 * Whether a level is heard over an ambient one by the A-weighted criterion of ISO 7731 (memory): at least 65 dB(A), at
 * least 15 dB above ambient, at most 118 dB(A).
 */
export function hearing(level: number, ambient: number): Hearing {
  if (level > GREATEST_LEVEL) return "harmful";
  if (level < LEAST_LEVEL) return "quiet";
  return level < ambient + ABOVE_AMBIENT ? "masked" : "heard";
}

export interface HearingByHour {
  readonly level: DecibelsA;
  /** By hour of the local day, 0 to 23. */
  readonly hours: readonly Hearing[];
  /** Presence in which it is heard, for the time to notice. */
  readonly heardWhilePresent: WeeklyHours;
  /** Share of the presence in which it is heard; 0 where nobody is ever present. */
  readonly heardShare: number;
}

function overlaps(present: WeeklyHours, hours: readonly Hearing[]): WeeklyHours {
  const spans: { fromMinute: number; toMinute: number }[] = [];
  for (const { fromMinute, toMinute } of present) {
    for (let hour = Math.floor(fromMinute / 60); hour * 60 < toMinute; hour++) {
      if (hours[hour % 24] !== "heard") continue;
      const from = Math.max(fromMinute, hour * 60);
      const to = Math.min(toMinute, (hour + 1) * 60);
      const last = spans.at(-1);
      if (last !== undefined && last.toMinute === from) last.toMinute = to;
      else spans.push({ fromMinute: from, toMinute: to });
    }
  }
  return spans;
}

const minutesOf = (spans: WeeklyHours): number =>
  spans.reduce((sum, { fromMinute, toMinute }) => sum + toMinute - fromMinute, 0);

/**
 * When a listener hears the sounders, by the ambient level of each hour of the day.
 *
 * @param ambientByHour  24 A-weighted levels, midnight first
 * @throws RangeError PATH_AMBIENT_HOURS_WRONG for another number of hours
 */
export function hearingByHour(
  sounders: readonly Sounder[],
  ambientByHour: readonly number[],
  present: WeeklyHours,
): HearingByHour {
  if (ambientByHour.length !== 24) {
    throw new RangeError(
      `PATH_AMBIENT_HOURS_WRONG: ${ambientByHour.length} ambient levels; allowed: 24, midnight first`,
    );
  }
  const level = soundscapeLevel(sounders);
  const hours = ambientByHour.map((ambient) => hearing(level, ambient));
  const heardWhilePresent = overlaps(present, hours);
  const all = minutesOf(present);
  return { level, hours, heardWhilePresent, heardShare: all === 0 ? 0 : minutesOf(heardWhilePresent) / all };
}

/** Whether somebody asleep may be roused: 75 dB(A) at the bedhead, doors shut. Never a promise. */
export function mayRouse(sounders: readonly Sounder[]): {
  readonly level: DecibelsA;
  readonly mayRouse: boolean;
} {
  const level = soundscapeLevel(sounders);
  return { level, mayRouse: level >= BEDHEAD_LEVEL };
}
