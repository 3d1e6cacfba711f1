import { cableLoopResistance } from "../path/cable.ts";
import { floatVoltage } from "../path/contact.ts";
import { figure } from "../path/judgement.ts";
import { chooseEndOfLine } from "./end-of-line.ts";
import type { EndOfLine } from "./loop-design.ts";
import { changed, type Draft, stuck } from "./repair.ts";

function endOfLineFor(draft: Draft): EndOfLine | null {
  const { loop } = draft;
  const cableOhms = loop.cable === undefined ? null : cableLoopResistance(loop.cable);
  const highestV = floatVoltage(loop);
  if (cableOhms === null || highestV === undefined || loop.supplyMinimum === undefined) return null;
  return chooseEndOfLine({ lowestV: loop.supplyMinimum, highestV, cableOhms });
}

/**
 * Give a loop that sounds by closing a contact an end-of-line resistor, so that a cut or shorted wire shows.
 *
 * A loop that sounds when it loses current needs none. A loop already called supervised gets the value and its bands.
 */
export function makeFailSafe(draft: Draft): Draft {
  const { sense, supervised } = draft.loop;
  if (sense === "de-energise-to-alarm") return draft;
  const endOfLine = endOfLineFor(draft);
  if (endOfLine === null) {
    return stuck(
      draft,
      "No end-of-line resistor tells a shorted, a normal and an open line apart. Let loss of current sound the alarm instead.",
    );
  }
  const stated = sense === undefined ? { sense: "energise-to-alarm" as const } : {};
  if (supervised === true) return { ...draft, endOfLine, loop: { ...draft.loop, ...stated } };
  const to = `${figure(endOfLine.ohms)} Ω, ${endOfLine.watts} W at the far end, watched through ${figure(endOfLine.seriesOhms)} Ω`;
  const why = "A cut wire would hide the alarm and nothing would show it.";
  const repaired = changed(
    draft,
    { ...stated, supervised: true },
    { part: "end-of-line", from: "none", to, why },
  );
  return { ...repaired, endOfLine };
}
