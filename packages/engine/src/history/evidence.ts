import type { Morning } from "./mornings.ts";
import { evidenceOhms } from "./ohms-text.ts";
import { LEAST_MORNINGS } from "./classify.ts";
import { dateOfDay } from "./local-day.ts";
import type { DryLevel } from "./dry-level.ts";
import type { Signs } from "./signs.ts";
import type { SoundReadings } from "./sound-readings.ts";
import type { Trend } from "./trend.ts";
import type { Trouble } from "./weigh.ts";

const percent = (share: number): string => `${Math.round(100 * share)} %`;
const factor = (decades: number): string => `a factor of ${Number((10 ** decades).toPrecision(2))}`;

interface Known {
  readonly mornings: readonly Morning[];
  readonly signs: Signs | null;
  readonly level: DryLevel;
  readonly trend: Trend | null;
  readonly sound: SoundReadings;
}

/** The reason for a verdict, in a sentence or two that can be checked against the picture. */
export function evidenceFor(verdict: Trouble, known: Known): string {
  const { signs } = known;
  if (signs === null || verdict === "too-little-data") {
    const { length } = known.mornings;
    return `${length} ${length === 1 ? "morning is" : "mornings are"} too few for a verdict: at least ${LEAST_MORNINGS} over four weeks are needed.`;
  }
  switch (verdict) {
    case "healthy":
      return healthyText(signs, known);
    case "moisture-driven":
      return moistureText(signs);
    case "hard":
      return hardText(signs, known.level);
    case "progressive":
      return progressiveText(signs, known);
    case "intermittent":
      return intermittentText(signs);
    case "sensor":
      return sensorText(signs, known);
  }
}

function healthyText({ shape, wetDepth, present, ceilingShare }: Signs, { trend }: Known): string {
  const wet =
    present.wet < 5 || Number.isNaN(wetDepth)
      ? "Too few mornings are known to be wet to say what water does."
      : wetDepth < 0.05
        ? "Wet mornings read no lower than dry ones."
        : `Wet mornings lie ${factor(wetDepth)} below dry ones, which a sound array may.`;
  const level =
    ceilingShare > 0.5
      ? "Most dry readings are at the instrument's ceiling: the truth is that or more, and a decline above it would not be seen."
      : `The dry level is ${evidenceOhms(shape.flat.after)} and shows neither step nor decline${trend === null ? "" : ` (${yearly(trend)})`}.`;
  return `${level} ${wet}`;
}

function yearly({ decadesPerYear, low, high }: Trend): string {
  const change = (decades: number): string => {
    const share = Math.round(100 * (10 ** decades - 1));
    return `${share < 0 ? "−" : "+"}${Math.abs(share)} %`;
  };
  return `${change(decadesPerYear)} a year, ${change(low)} to ${change(high)}`;
}

function moistureText({ deepShare, present, wetDepth, lowSpread }: Signs): string {
  if (present.wet >= 5 && present.dry >= 5)
    return `${percent(deepShare.wet)} of wet mornings fall more than a factor of 10 below the dry level, ${percent(deepShare.dry)} of dry ones; the middle wet morning falls by ${factor(wetDepth)}. Dry mornings recover.`;
  return `${percent(deepShare.unknown)} of mornings fall more than a factor of 10 and recover; how far they fall varies (spread ${factor(lowSpread || 0)}), as it does with the amount of water. Weather beside the readings would make this surer.`;
}

function hardText({ shape: { steps } }: Signs, { weeks }: DryLevel): string {
  const at = steps.changes.at(-1);
  const when = at === undefined ? "" : ` about ${dateOfDay(Math.floor(weeks[at]!.day))}`;
  return `The dry level fell at once from ${evidenceOhms(steps.before)} to ${evidenceOhms(steps.after)}${when} and has stayed there, wet or dry.`;
}

function progressiveText({ shape: { slope }, seasonUnknown }: Signs, { trend }: Known): string {
  const rate = trend === null ? "" : ` (${yearly(trend)})`;
  const doubt = seasonUnknown
    ? " The record is too short to know the season, and part of this may be it."
    : "";
  return `The dry level sinks gradually, from ${evidenceOhms(slope.before)} to ${evidenceOhms(slope.after)}${rate}, without a step that explains it better.${doubt}`;
}

function intermittentText({ deepShare, present, lowDepth, lowSpread }: Signs): string {
  const dry =
    present.dry >= 10
      ? `${percent(deepShare.dry)} of dry mornings and ${percent(deepShare.wet)} of wet ones are deep`
      : `${percent(deepShare.unknown)} of mornings are deep`;
  return `Single mornings are low whether wet or not: ${dry}; they fall by ${factor(lowDepth || 0)}, to nearly the same value each time (spread ${factor(lowSpread || 0)}), and recover. That is how a contact behaves that movement makes.`;
}

function sensorText(signs: Signs, { sound, mornings }: Known): string {
  const { equalRun, slips, highShare, toAndFro } = signs;
  if (sound.zeros > 0.01 * sound.given)
    return `${sound.zeros} of ${sound.given} readings are exactly 0 Ω and recover at once: the link or the sensor drops out.`;
  if (equalRun >= 8)
    return `The last ${equalRun} mornings read exactly ${evidenceOhms(mornings.at(-1)!.lowest)}, below the instrument's ceiling. No insulation does that: the value is stuck.`;
  if (toAndFro > 1)
    return "Readings of one morning go to and fro by more than a factor of 10: that is noise, not drying.";
  if (slips.spells > 0 && slips.meanLength > 4)
    return `In ${slips.spells} ${slips.spells === 1 ? "spell" : "spells"} of ${Math.round(slips.meanLength)} mornings on average the readings are a thousand times lower and otherwise go on as before: a change of unit, not of insulation.`;
  return `Readings scatter far more than weather explains, ${percent(highShare)} of them well above the dry level: the instrument is noisy.`;
}
