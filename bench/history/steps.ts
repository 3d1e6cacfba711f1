import { followMorning, followState, type HistoryReading, morningsOf, readHistory } from "@earthbell/engine";
import { type Drawn, FIRST_DAY, ZONE } from "./drawn-histories.ts";

const DAY_MS = 86_400_000;
const LEARNED_DAYS = 300;
const WATCHED_DAYS = 365;

export interface StepResult {
  readonly factor: number;
  readonly arrays: number;
  /** Steps found on the first, second, third morning after, and later or never. */
  readonly found: readonly [number, number, number];
  readonly missed: number;
  /** By climate and by style of record: found and of how many. */
  readonly by: Readonly<Record<string, { found: number; of: number }>>;
  /** Arrays with any false step in a year of following, before anything happened. */
  readonly falseArrays: number;
}

/**
 * A sound array is followed for a year, and then a leak is added that lowers its dry level by a factor.
 *
 * The leak is put into the readings as a conductance, so that wet mornings change by less than dry ones, as they would.
 */
export function stepsOf(draw: (index: number) => Drawn, arrays: number, factor: number): StepResult {
  const found: [number, number, number] = [0, 0, 0];
  const by: Record<string, { found: number; of: number }> = {};
  let [missed, falseArrays] = [0, 0];
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
      .filter((reading) => dayOf(reading) >= LEARNED_DAYS && dayOf(reading) < stepDay + 12)
      .map((reading) =>
        dayOf(reading) < stepDay ? reading : { ...reading, ohms: 1 / (1 / reading.ohms + leak) },
      );
    const mornings = morningsOf(rest, ZONE, { ceilingOhms: ceiling, floorOhms: null, from: "stated" });
    let state = followState(ends);
    let after = 0;
    let when = 0;
    let isFalse = false;
    for (const morning of mornings) {
      const followed = followMorning(state, morning);
      state = followed.state;
      const stepped = followed.decision.sign === "step";
      if (morning.day - FIRST_DAY < stepDay) isFalse ||= stepped;
      else if (++after <= 3 && stepped && when === 0) when = after;
    }
    for (const name of [climate, style]) {
      const own = (by[name] ??= { found: 0, of: 0 });
      own.of++;
      if (when > 0) own.found++;
    }
    if (isFalse) falseArrays++;
    if (when === 0) missed++;
    else found[when - 1]!++;
  }
  return { factor, arrays, found, missed, by, falseArrays };
}
