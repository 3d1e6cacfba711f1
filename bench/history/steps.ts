import {
  followMorning,
  type FollowState,
  followState,
  type HistoryReading,
  type Morning,
  morningsOf,
  readHistory,
} from "@earthbell/engine";
import { type Drawn, FIRST_DAY, ZONE } from "./drawn-histories.ts";

const DAY_MS = 86_400_000;
const LEARNED_DAYS = 300;
const WATCHED_DAYS = 365;

export interface StepResult {
  readonly factor: number;
  readonly arrays: number;
  /** Steps found on the first, second, third morning heard after. */
  readonly found: readonly [number, number, number];
  /** Not found by the third morning heard. */
  readonly missed: number;
  /** Found within three days of the calendar, and arrays of which not every one of those days was heard. */
  readonly foundInThreeDays: number;
  readonly notAllHeard: number;
  readonly by: Readonly<Record<string, Share>>;
  /** Arrays with any false step in a year of following, before anything happened. */
  readonly falseArrays: number;
}

interface Share {
  found: number;
  of: number;
  falseArrays: number;
}

/**
 * A sound array is followed for a year, and then a leak is added that lowers its dry level by a factor.
 *
 * The leak is put into the readings as a conductance, so that wet mornings change by less than dry ones, as they would.
 * Records have gaps of up to a month. A detector cannot find what is not measured: the three mornings are the first three
 * that were heard, and what was found within three days of the calendar, heard or not, is counted beside it.
 */
export function stepsOf(draw: (index: number) => Drawn, arrays: number, factor: number): StepResult {
  const found: [number, number, number] = [0, 0, 0];
  const by: Record<string, Share> = {};
  let [missed, falseArrays, foundInThreeDays, notAllHeard] = [0, 0, 0, 0];
  for (let index = 0; index < arrays; index++) {
    const { history, climate, style } = draw(index);
    const dayOf = ({ at }: HistoryReading): number => Math.floor((at + 36e6) / DAY_MS) - FIRST_DAY;
    const learned = history.readings.filter((reading) => dayOf(reading) < LEARNED_DAYS);
    const ends = readHistory({ array: "A", readings: learned }, { timezone: ZONE });
    const ceiling = ends.finding.instrument.ceilingOhms;
    const level = ends.finding.dryLevel?.ohms;
    if (level === undefined) continue;
    const leak = (factor - 1) / level;
    const stepDay = LEARNED_DAYS + WATCHED_DAYS;
    const rest = history.readings
      .filter((reading) => dayOf(reading) >= LEARNED_DAYS)
      .map((reading) =>
        dayOf(reading) < stepDay ? reading : { ...reading, ohms: 1 / (1 / reading.ohms + leak) },
      );
    const mornings = morningsOf(rest, ZONE, { ceilingOhms: ceiling, floorOhms: null, from: "stated" });
    const { falseStep, foundAfter, foundDay, heard } = follow(
      followState(ends),
      mornings,
      FIRST_DAY + stepDay,
    );
    for (const name of [climate, style]) {
      const own = (by[name] ??= { found: 0, of: 0, falseArrays: 0 });
      own.of++;
      if (foundAfter !== null) own.found++;
      if (falseStep) own.falseArrays++;
    }
    if (falseStep) falseArrays++;
    if (foundDay < 3) foundInThreeDays++;
    if (heard < 3) notAllHeard++;
    if (foundAfter === null) missed++;
    else found[foundAfter]!++;
  }
  return { factor, arrays, found, missed, foundInThreeDays, notAllHeard, by, falseArrays };
}

/** Follows up to the third morning heard from the day of the step on. */
function follow(
  from: FollowState,
  mornings: readonly Morning[],
  stepDay: number,
): {
  readonly falseStep: boolean;
  /** 0 to 2: on which morning heard; null for none of them. */
  readonly foundAfter: number | null;
  /** Days from the step to the morning it was found on; endless where it was not. */
  readonly foundDay: number;
  /** Mornings heard within three days. */
  readonly heard: number;
} {
  let state = from;
  let falseStep = false;
  let foundAfter: number | null = null;
  let foundDay = Infinity;
  const after = mornings.filter(({ day }) => day >= stepDay);
  const lastDay = after[2]?.day ?? Infinity;
  for (const morning of mornings) {
    if (morning.day > lastDay) break;
    const followed = followMorning(state, morning);
    state = followed.state;
    if (followed.decision.sign !== "step") continue;
    if (morning.day < stepDay) falseStep = true;
    else if (foundAfter === null) {
      foundAfter = after.indexOf(morning);
      foundDay = morning.day - stepDay;
    }
  }
  return { falseStep, foundAfter, foundDay, heard: after.filter(({ day }) => day < stepDay + 3).length };
}
