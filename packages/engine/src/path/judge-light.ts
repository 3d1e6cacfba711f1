import type { Light } from "../assess/site.ts";
import type { DecibelsA, Metres } from "../quantity/index.ts";
import { figure, listed, type Remark } from "./judgement.ts";
import { FLASH_RATES, flashRate, type Scene } from "./light.ts";
import { type LightReach, lightReach } from "./light-reach.ts";

const AGAINST: Readonly<Record<Scene, string>> = {
  "bright-day": "against bright daylight",
  "overcast-or-indoors": "under a dull sky or indoors",
  twilight: "in twilight",
  night: "in the dark",
};

const metres = (value: number): string => figure(value, value < 10 ? 1 : 0);

/** Flashes a minute above which people with photosensitive epilepsy are at risk: three a second (memory). */
const MOST_FLASHES = 180;

function flashRemarks({ flashesPerMinute = 0 }: Light): readonly Remark[] {
  if (flashesPerMinute === 0 || flashRate(flashesPerMinute).kind !== "neither") return [];
  const { slow, normal } = FLASH_RATES;
  const rates = `${slow.value.join(" to ")} (slow) or ${normal.value.join(" to ")} (normal)`;
  const harm = flashesPerMinute > MOST_FLASHES ? " More than three a second can bring on a seizure." : "";
  const text = `The light flashes ${figure(flashesPerMinute)} times a minute, outside ${rates}.${harm} Set it to one of these.`;
  return [{ code: "PATH_LIGHT_FLASH_RATE", text, figures: { flashesPerMinute } }];
}

function reachRemarks(reach: LightReach, distance: number): readonly Remark[] {
  const found = `found from ${metres(reach.metres)} m ${AGAINST[reach.background]}`;
  const figures = {
    viewingDistance: distance,
    lightFoundFrom: reach.metres,
    lightFoundByDay: reach.byBrightDay,
    lightFoundByNight: reach.byDarkNight,
  };
  const words = `The light is ${found}, from ${metres(reach.byBrightDay)} m by bright day and ${metres(reach.byDarkNight)} m in a dark night; people are ${metres(distance)} m away. See it from there, by day, in a drill.`;
  const shown: Remark = { code: "PATH_LIGHT_FIGURES", text: words, figures };
  if (distance > reach.metres) {
    const text = `The light is ${found} only, and people are ${metres(distance)} m away. Move it nearer or choose a brighter one.`;
    return [shown, { code: "PATH_LIGHT_DIM", text, figures }];
  }
  if (distance <= reach.toRedBlindMetres) return [shown];
  const text = `Somebody blind to red finds this red light from ${metres(reach.toRedBlindMetres)} m only, and people are ${metres(distance)} m away. Choose amber or white, or add a sound.`;
  return [shown, { code: "PATH_LIGHT_RED", text, figures: { toRedBlind: reach.toRedBlindMetres } }];
}

function assumedRemarks({ assumed }: LightReach): readonly Remark[] {
  if (assumed.length === 0) return [];
  const text = `It is not stated, so it is assumed, that ${listed(assumed.map(({ value }) => value))}. Record it.`;
  return [{ code: "PATH_LIGHT_ASSUMED", text }];
}

interface Viewer {
  readonly distance?: Metres;
  readonly barriers?: readonly DecibelsA[];
}

/** Whether people within reach see a beacon or lamp where they are: distance, surroundings, flashes, walls, colour sight. */
export function judgeLight(light: Light | undefined, { distance, barriers }: Viewer): readonly Remark[] {
  const remarks: Remark[] = [...flashRemarks(light ?? {})];
  const reach = light === undefined ? null : lightReach(light);
  const missing = [
    ...(reach === null ? ["the light's intensity, or its luminance and diameter"] : []),
    ...(distance === undefined ? ["the distance to the people"] : []),
    ...(barriers === undefined ? ["what stands between (an empty list says nothing does)"] : []),
  ];
  if (missing.length > 0) {
    const text = `Whether the light is seen cannot be judged, because these are not stated: ${listed(missing)}. Record them.`;
    remarks.push({ code: "PATH_LIGHT_UNKNOWN", text });
  }
  if (barriers !== undefined && barriers.length > 0) {
    const text =
      "A wall or door stands between the light and the people, and light does not pass it. Put the light in view, or use a sounder.";
    remarks.push({ code: "PATH_LIGHT_BLOCKED", text });
  }
  if (reach === null) return remarks;
  const seen = distance === undefined ? [] : reachRemarks(reach, distance);
  return [...remarks, ...seen, ...assumedRemarks(reach)];
}
