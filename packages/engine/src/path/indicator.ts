import type { IndicatorPath, Inverter } from "../assess/site.ts";
import { invertersServed, type PathContext } from "./context.ts";
import { figure, type Remark } from "./judgement.ts";
import type { Candela } from "../quantity/index.ts";
import { intensityOf, LIGHT_DEFAULTS, type LightReach, lightReach } from "./light-reach.ts";

/** What is known of an inverter's light, and from how far it is found: 0.1 cd and 10 m by day where nothing is stated. */
function lightOf({ where }: Inverter): { readonly words: string; readonly reach: LightReach } {
  const stated = where?.light ?? {};
  const intensity = intensityOf(stated);
  const taken = intensity ?? (LIGHT_DEFAULTS.indicatorCandela.value as Candela);
  const words = intensity === null ? `a light of ${figure(taken)} cd, as assumed,` : "its light";
  return { words, reach: lightReach({ ...stated, intensity: taken })! };
}

const SURROUNDINGS: Readonly<Record<LightReach["background"], string>> = {
  "bright-day": "in daylight",
  "overcast-or-indoors": "indoors or under a dull sky",
  twilight: "in twilight",
  night: "even in the dark",
};

function sightRemarks(inverter: Inverter): readonly Remark[] {
  const { id, where } = inverter;
  const distance = where?.viewingDistance;
  const { words, reach } = lightOf(inverter);
  const lost = `${words} is lost ${SURROUNDINGS[reach.background]} beyond ${figure(reach.metres)} m`;
  if (distance === undefined) {
    const text = `From how far the light of ${id} is seen is not stated; ${lost}. Measure it.`;
    return [{ code: "PATH_INDICATOR_DISTANCE_UNKNOWN", text }];
  }
  if (distance <= reach.metres) return [];
  const text = `People pass ${id} at ${figure(distance)} m; ${lost}. Repeat it nearer.`;
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
