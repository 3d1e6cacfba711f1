import type { IndicatorPath, Inverter } from "../assess/site.ts";
import { invertersServed, type PathContext } from "./context.ts";
import { figure, type Remark } from "./judgement.ts";
import { sightDistance } from "./light.ts";
import type { Candela } from "../quantity/index.ts";

/** A bright small indicator (memory). */
const INDICATOR_INTENSITY = 0.1 as Candela;
/** Farthest distance at which a small indicator is found by day: √(0.1 cd / 1 mlx) = 10 m. */
const INDICATOR_RANGE_M = sightDistance(INDICATOR_INTENSITY, "bright-day");

function sightRemarks({ id, where }: Inverter): readonly Remark[] {
  const distance = where?.viewingDistance;
  if (distance === undefined) {
    const text = `From how far the light of ${id} is seen is not stated; beyond ${figure(INDICATOR_RANGE_M)} m it is lost in daylight. Measure it.`;
    return [{ code: "PATH_INDICATOR_DISTANCE_UNKNOWN", text }];
  }
  if (distance <= INDICATOR_RANGE_M) return [];
  const text = `People pass ${id} at ${figure(distance)} m; a small light is lost in daylight beyond ${figure(INDICATOR_RANGE_M)} m. Repeat it nearer.`;
  return [{ code: "PATH_INDICATOR_TOO_FAR", text, figures: { viewingDistance: distance } }];
}

function passRemarks({ id, where }: Inverter): readonly Remark[] {
  const passes = where?.passesPerDay;
  if (passes === undefined) {
    const text = `How often somebody passes ${id} is not stated, so whether its light is noticed cannot be judged. Ask the occupants and record it.`;
    return [{ code: "PATH_INDICATOR_PASSES_UNKNOWN", text }];
  }
  if (passes <= 0) {
    const text = `Nobody passes ${id}, so its light is never seen. Use another signal, or repeat the light.`;
    return [{ code: "PATH_INDICATOR_NOBODY_PASSES", text }];
  }
  if (passes >= 1) return [];
  const text = `Somebody passes ${id} ${figure(passes, 2)} times a day, so its light is seen days after a fault, if at all. Add a message, or repeat the light where people pass daily.`;
  return [{ code: "PATH_INDICATOR_RARELY_PASSED", text, figures: { passesPerDay: passes } }];
}

function placeRemarks(inverter: Inverter): readonly Remark[] {
  const { id, where } = inverter;
  if (where === undefined) {
    const text = `Where ${id} stands is not stated, so whether its light is noticed cannot be judged. Record it.`;
    return [{ code: "PATH_INDICATOR_PLACE_UNKNOWN", text }];
  }
  if (where.accessible === false) {
    const text = `${id} stands where people cannot go, so its light alarms nobody. Use a message or an annunciator.`;
    return [{ code: "PATH_INDICATOR_HIDDEN", text }];
  }
  const access: Remark[] = [];
  if (where.accessible === undefined) {
    const text = `Whether people can get to ${id} is not stated; taken as reachable, as passes are counted. Confirm it.`;
    access.push({ code: "PATH_INDICATOR_ACCESS_UNKNOWN", text });
  }
  return [...access, ...passRemarks(inverter), ...sightRemarks(inverter)];
}

/** The inverter's own light: whether it is where somebody passes, how often, and near enough to be seen. */
export function judgeIndicator(path: IndicatorPath, context: PathContext): readonly Remark[] {
  return invertersServed(path, context).flatMap(placeRemarks);
}
