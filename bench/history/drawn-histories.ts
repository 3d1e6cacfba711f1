import {
  CLIMATES,
  type ClimateName,
  type RecordStyle,
  simulateHistory,
  type SimulatedHistory,
  SIMULATED_TROUBLES,
  type SimulatedTrouble,
} from "@earthbell/engine";

const STYLES: readonly RecordStyle[] = [
  "weather",
  "mornings",
  "weather",
  "weather",
  "mornings",
  "weather",
  "mornings",
  "weather",
  "bare",
  "weather",
];
const LENGTHS = [365, 730, 1826] as const;
export const FIRST_DAY = 18_000;
export const ZONE = "Australia/Brisbane";
const OFFSET_MIN = 600;
/** A decline of less than this by the end is too early for anybody to see [decades]. */
const VISIBLE_DECADES = 0.2;

export interface Drawn {
  readonly trouble: SimulatedTrouble;
  readonly style: RecordStyle;
  readonly climate: ClimateName;
  readonly days: number;
  readonly history: SimulatedHistory;
}

/** The i-th history of a run: troubles in turn, six in ten with weather, three with several checks a morning, one bare. */
export function drawHistory(index: number, seed: number, fixed: Partial<Drawn> = {}): Drawn {
  const climates = Object.keys(CLIMATES) as ClimateName[];
  const trouble = fixed.trouble ?? SIMULATED_TROUBLES[index % 6]!;
  const style = fixed.style ?? STYLES[Math.floor(index / 6) % 10]!;
  const climate = fixed.climate ?? climates[Math.floor(index / 60 + index / 6) % 4]!;
  const days = fixed.days ?? LENGTHS[Math.floor(index / 7) % 3]!;
  const history = simulateHistory({
    trouble,
    seed: seed + index,
    firstDay: FIRST_DAY,
    days,
    offsetMin: OFFSET_MIN,
    climate: CLIMATES[climate],
    style,
  });
  return { trouble, style, climate, days, history };
}

/** Whether the trouble has come far enough to be called by its name. */
export function isVisible({ trouble, days, history }: Drawn): boolean {
  if (trouble !== "progressive") return true;
  return Math.log10(history.dryOhms[0]! / history.dryOhms[days - 1]!) >= VISIBLE_DECADES;
}
