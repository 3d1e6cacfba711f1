import type { Sourced } from "../provenance.ts";
import { NOTICE_ASSUMPTIONS as assume } from "./assumptions.ts";

function worded(words: string, { source, tag }: Sourced<unknown>): Sourced<string> {
  return { value: words, source, tag };
}

const percent = (share: number): string => `${Math.round(share * 100)} %`;

/** What every time to notice takes for granted: the site file has no field for it. In words, with source and tag. */
export const STANDING_ASSUMPTIONS: readonly Sourced<string>[] = [
  worded(
    `${percent(assume.dawnWetShare.value)} of faults are born wet, from ${assume.dewBeforeSunriseMin.value} min before sunrise to ${assume.dewAfterSunriseMin.value} min after it`,
    assume.dawnWetShare,
  ),
  worded(
    `${percent(assume.daylightShare.value)} of faults are born in daylight, the rest at any time of day`,
    assume.daylightShare,
  ),
  worded(
    `the inverter starts ${assume.startAfterSunriseMin.value} min after sunrise and checks then`,
    assume.startAfterSunriseMin,
  ),
  worded(
    `nobody is on the site for a week at a time, ${percent(assume.siteEmptyShare.value)} of the year`,
    assume.siteEmptyShare,
  ),
  worded(
    `nobody on the site knows what a sounder or light means: ${percent(assume.unawareTold.value)} where the owner was told, ${percent(assume.unawareUntold.value)} where not`,
    assume.unawareTold,
  ),
];
