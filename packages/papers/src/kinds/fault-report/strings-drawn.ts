import { drawStrip, type Finding, type Reading, svgText, type Visit } from "@earthbell/engine";
import type { Block } from "../../content/paper.ts";
import { tableWords } from "../../content/table-words.ts";

/** Strings that one report draws: the likeliest ones. */
const MOST_STRINGS = 8;
const WIDTH = 700;

/** Each string that the finding speaks of, with the probability of its places and the leads of its readings. */
export function stringsDrawn(visit: Visit, finding: Finding): readonly Block[] {
  const likely = [...new Set(finding.places.map((place) => place.string))];
  const shown = [...likely, ...visit.strings.map(({ id }) => id).filter((id) => !likely.includes(id))];
  return shown.slice(0, MOST_STRINGS).flatMap((id) => {
    const spec = visit.strings.find((one) => one.id === id);
    if (spec === undefined) return [];
    const drawing = drawStrip({
      id,
      modules: spec.modules,
      places: finding.places.filter((place) => place.string === id),
      leads: leadsOn(id, spec.modules, visit.readings),
      proposed: [],
      handAt: finding.handRule.find((rule) => rule.string === id)?.at ?? null,
      width: WIDTH,
    });
    return [
      {
        kind: "drawing",
        svg: svgText(drawing),
        alt: tableWords(drawing.table),
        caption: `String ${id}, ${spec.modules} modules from − to +. Numbers are those of the readings below.`,
        width: 1,
      } as const,
    ];
  });
}

/** Where the leads of readings to earth stood on a string, by the number of the reading. */
function leadsOn(
  id: string,
  modules: number,
  readings: readonly Reading[],
): readonly { readonly at: number; readonly number: number }[] {
  return readings.flatMap((reading, index) => {
    if (reading.on !== id || reading.to !== "earth" || reading.from === "shorted") return [];
    const [low, high] = reading.segment ?? [0, modules];
    return [{ at: reading.from === "-" ? low : high, number: index + 1 }];
  });
}
