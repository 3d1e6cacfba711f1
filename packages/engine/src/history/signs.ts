import { type DryLevel, referred } from "./dry-level.ts";
import { levelShape, type LevelShape } from "./level-shape.ts";
import type { Morning } from "./mornings.ts";
import { median, quantile, robustSigma } from "./statistics/quantile.ts";

/** What is wrong now shows in the newest days [design choice]. */
const PRESENT_DAYS = 270;
/** A morning counts as low from a factor of 3 below the dry level [decades] [design choice]. */
const LOW_DECADES = 0.5;
/** A sound array falls by up to ten when wet; what falls further has a path that water opens [memory]. */
const DEEP_DECADES = 1;
/** A change of unit is a factor of a thousand; within these mornings may vary by weather [decades]. */
const UNIT_DECADES = 3;
const UNIT_TOLERANCE = 0.35;

/** How a morning stands against the dry level of its time. */
export interface Standing {
  readonly morning: Morning;
  /** Decades below the dry level, referred to the same temperature; negative above it. */
  readonly deficit: number;
}

interface ByWetness {
  readonly wet: number;
  readonly dry: number;
  readonly unknown: number;
}

/** What was counted and measured in a history, for a verdict to weigh. */
export interface Signs {
  readonly shape: LevelShape;
  /** Every morning, oldest first. */
  readonly standings: readonly Standing[];
  /** Present mornings by wetness. */
  readonly present: ByWetness;
  /** Whether weather is noted beside most present mornings. */
  readonly weatherKnown: boolean;
  /** Shares of present mornings that are low. */
  readonly lowShare: ByWetness;
  /** Shares that are deep: more than a factor of 10 below. */
  readonly deepShare: ByWetness;
  /** Median deficit of present wet mornings [decades]; NaN without. */
  readonly wetDepth: number;
  /** The same of wet mornings before the present; NaN without. */
  readonly wetDepthBefore: number;
  /** log10 Ω that one present wet morning in ten stays below; NaN without. */
  readonly wetLow: number;
  /** Spread of the values of low dry or unknown mornings [decades]; NaN without. */
  readonly lowSpread: number;
  /** Median deficit of those mornings; NaN without. */
  readonly lowDepth: number;
  /** Mornings, not wet, between a factor of 1.6 and of 3 below, over those lower still. */
  readonly halfLow: number;
  /** Share of present dry mornings more than a factor of 1.8 below the dry level, which holds them. */
  readonly dryScatter: number;
  /** Share of present mornings a factor of 2.5 or more above the dry level. */
  readonly highShare: number;
  /** Longest run of exactly equal mornings at the end, the instrument's ceiling left out. */
  readonly equalRun: number;
  /** Spells of mornings a thousand below the record's upper level, at least one of them ended; mean length in mornings. */
  readonly slips: { readonly spells: number; readonly meanLength: number };
  /** Median way to and fro within a present day, beyond its range [decades]; NaN where days have one reading. */
  readonly toAndFro: number;
  /** Spread of dry readings about the level [decades]. */
  readonly drySigma: number;
  /** Neither temperature is noted nor is the record long enough to know its season: a slope may be the season. */
  readonly seasonUnknown: boolean;
  /** Share of dry readings at the ceiling. */
  readonly ceilingShare: number;
}

export function signsOf(mornings: readonly Morning[], level: DryLevel): Signs {
  const shape = levelShape(level.weeks);
  const standings = standingsOf(mornings, level);
  const newest = mornings.at(-1)?.day ?? 0;
  const present = standings.filter(({ morning }) => morning.day > newest - PRESENT_DAYS);
  const earlier = standings.filter(({ morning }) => morning.day <= newest - PRESENT_DAYS);
  const by = (wetness: Morning["wetness"]): readonly Standing[] =>
    present.filter(({ morning }) => morning.wetness === wetness);
  const [wet, dry, unknown] = [by("wet"), by("dry"), by("unknown")];
  const notWet = [...dry, ...unknown];
  const low = notWet.filter(isLow);
  const deep = notWet.filter(isDeep);
  // Where some are deep, the shallow ones are weather.
  const spreading = deep.length >= 8 ? deep : low;
  const half = notWet.filter(({ deficit }) => deficit > 0.2 && deficit <= LOW_DECADES);
  return {
    shape,
    standings,
    present: { wet: wet.length, dry: dry.length, unknown: unknown.length },
    weatherKnown: share(present, ({ morning }) => morning.dewMarginK !== null) > 0.5,
    lowShare: { wet: share(wet, isLow), dry: share(dry, isLow), unknown: share(unknown, isLow) },
    deepShare: { wet: share(wet, isDeep), dry: share(dry, isDeep), unknown: share(unknown, isDeep) },
    wetDepth: median(wet.map(({ deficit }) => deficit)),
    wetDepthBefore: median(
      earlier.filter(({ morning }) => morning.wetness === "wet").map(({ deficit }) => deficit),
    ),
    wetLow: quantile(
      wet.map(({ morning }) => morning.lowest),
      0.1,
    ),
    lowSpread: robustSigma(spreading.map(({ morning }) => morning.lowest)),
    lowDepth: median(low.map(({ deficit }) => deficit)),
    halfLow: half.length / Math.max(1, low.length),
    dryScatter: share(dry, ({ deficit }) => deficit > 0.25),
    highShare: share(present, ({ deficit }) => deficit < -0.4),
    equalRun: equalRunOf(mornings),
    slips: slipSpells(mornings),
    toAndFro: median(present.flatMap(({ morning }) => morning.toAndFro ?? [])),
    drySigma: robustSigma(dry.map(({ deficit }) => deficit)),
    seasonUnknown: level.decadesPerK === null && level.season === null,
    ceilingShare: share(level.readings, ({ atCeiling }) => atCeiling),
  };
}

function isLow({ deficit }: Standing): boolean {
  return deficit > LOW_DECADES;
}

function isDeep({ deficit }: Standing): boolean {
  return deficit > DEEP_DECADES;
}

/** Spells of mornings that lie a thousand below the record's upper level. */
function slipSpells(mornings: readonly Morning[]): Signs["slips"] {
  const upper = quantile(
    mornings.map(({ lowest }) => lowest),
    0.8,
  );
  let spells = 0;
  let count = 0;
  let inside = false;
  for (const { lowest } of mornings) {
    const below = upper - lowest;
    // A wet morning inside a spell lies lower still: only a return to half way ends it.
    const slipped: boolean = inside
      ? below > UNIT_DECADES / 2
      : Math.abs(below - UNIT_DECADES) < UNIT_TOLERANCE;
    if (slipped) count++;
    if (slipped && !inside) spells++;
    inside = slipped;
  }
  const ended = !inside || spells > 1;
  return { spells: ended ? spells : 0, meanLength: count / Math.max(1, spells) };
}

function share<Item>(items: readonly Item[], is: (item: Item) => boolean): number {
  return items.length === 0 ? 0 : items.filter(is).length / items.length;
}

/** Each morning against the middle of the dry weeks about it: five of them, so that one odd week decides nothing. */
function standingsOf(mornings: readonly Morning[], dry: DryLevel): Standing[] {
  const { weeks } = dry;
  const smooth = weeks.map((_, i) =>
    median(weeks.slice(Math.max(0, i - 3), i + 4).map(({ value }) => value)),
  );
  let at = 0;
  return mornings.map((morning) => {
    while (
      at + 1 < weeks.length &&
      Math.abs(weeks[at + 1]!.day - morning.day) <= Math.abs(weeks[at]!.day - morning.day)
    )
      at++;
    const level = smooth[at] ?? morning.lowest;
    const { lowest, bound, day, temperatureC } = morning;
    if (bound === "at-least") return { morning, deficit: Math.min(0, level - lowest) };
    return { morning, deficit: level - referred(dry, lowest, day, temperatureC) };
  });
}

function equalRunOf(mornings: readonly Morning[]): number {
  const last = mornings.at(-1);
  if (last === undefined || last.bound !== "measured") return 0;
  let run = 0;
  for (let i = mornings.length - 1; i >= 0 && mornings[i]!.lowest === last.lowest; i--) run++;
  return run;
}
