import type { AnnunciatorPath } from "../assess/site.ts";
import type { DecibelsA, Metres } from "../quantity/index.ts";
import { figure, listed, type Remark } from "./judgement.ts";

/** ISO 7731:2003 A-weighted criterion (memory): at least 65 dB(A), at least 15 dB above ambient, at most 118 dB(A). */
export const LEAST_LEVEL = 65;
export const ABOVE_AMBIENT = 15;
export const GREATEST_LEVEL = 118;
/** One closed door where nothing is said of barriers (secondary: 20 to 30 dB). */
const ASSUMED_BARRIER = 30;

type Listener = NonNullable<AnnunciatorPath["listener"]>;

/**
 * Sound level at a distance in the free field, less what stands between: L(1 m) − 20 log₁₀ d − Σ barriers.
 *
 * Takes no credit for reflections. Not for distances inside the sounder's own size.
 * @param levelAt1m  A-weighted level at 1 m
 * @param distance   > 0
 * Source: inverse-square law. Check: checks/sound-distance
 */
export function soundAt(
  levelAt1m: DecibelsA,
  distance: Metres,
  barriers: readonly DecibelsA[] = [],
): DecibelsA {
  const lost = barriers.reduce((sum, barrier) => sum + barrier, 0);
  return (levelAt1m - 20 * Math.log10(distance) - lost) as DecibelsA;
}

/** The level at the listener of a path, or null where level or distance is missing. */
export function soundAtListener(path: AnnunciatorPath): DecibelsA | null {
  const level = path.loop?.load?.level;
  const distance = path.listener?.distance;
  if (level === undefined || distance === undefined || !(distance > 0)) return null;
  return soundAt(level, distance, path.listener?.barriers ?? [ASSUMED_BARRIER as DecibelsA]);
}

function audibility(level: DecibelsA, ambient: DecibelsA | undefined): readonly Remark[] {
  const figures = { soundAtListener: level, ...(ambient === undefined ? {} : { ambient }) };
  const heard = `The listener gets ${figure(level)} dB(A)`;
  if (level > GREATEST_LEVEL) {
    const text = `${heard}, above ${GREATEST_LEVEL} dB(A), which harms hearing. Move the sounder away or choose a quieter one.`;
    return [{ code: "PATH_SOUND_LOUD", text, figures }];
  }
  const remarks: Remark[] = [];
  if (level < LEAST_LEVEL) {
    const text = `${heard}, below the ${LEAST_LEVEL} dB(A) of an alarm that is heard. Move the sounder nearer, add one, or choose a louder one.`;
    remarks.push({ code: "PATH_SOUND_QUIET", text, figures });
  }
  if (ambient !== undefined && level < ambient + ABOVE_AMBIENT) {
    const text = `${heard} over ${figure(ambient)} dB(A) of ambient sound, which masks it: an alarm is asked to be ${ABOVE_AMBIENT} dB above. Move the sounder nearer, choose a louder one, or add a beacon.`;
    remarks.push({ code: "PATH_SOUND_MASKED", text, figures });
  }
  return remarks;
}

function missingForSound(path: AnnunciatorPath, listener: Listener): readonly string[] {
  return [
    ...(path.loop?.load?.level === undefined ? ["the sounder's level at 1 m"] : []),
    ...(listener.distance === undefined || listener.distance <= 0 ? ["the distance to the listener"] : []),
    ...(listener.ambient === undefined ? ["the ambient sound level"] : []),
  ];
}

/** Whether a person within reach hears the sounder where he or she is, against ISO 7731. */
export function judgeSound(path: AnnunciatorPath, listener: Listener): readonly Remark[] {
  const remarks: Remark[] = [];
  const missing = missingForSound(path, listener);
  if (missing.length > 0) {
    const text = `Whether the sounder is heard cannot be judged, because these are not stated: ${listed(missing)}. Record them.`;
    remarks.push({ code: "PATH_SOUND_UNKNOWN", text });
  }
  if (listener.barriers === undefined) {
    const text = `What stands between sounder and listener is not stated, so one closed door of ${ASSUMED_BARRIER} dB is assumed. Record walls and doors; an empty list says that there are none.`;
    remarks.push({ code: "PATH_BARRIERS_ASSUMED", text });
  }
  const level = soundAtListener(path);
  return level === null ? remarks : [...remarks, ...audibility(level, listener.ambient)];
}
