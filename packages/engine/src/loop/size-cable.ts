import type { AlarmLoop } from "../assess/site.ts";
import { CONDUCTORS, conductorKind } from "../limits/index.ts";
import { loadVoltage } from "../path/cable.ts";
import { figure } from "../path/judgement.ts";
import type { SquareMillimetres } from "../quantity/index.ts";
import { changed, type Draft, stuck } from "./repair.ts";

/** Share by which the voltage at the load should exceed what it needs (design choice: an aged joint). */
const MARGIN = 0.05;
/** Largest conductor that the terminals of sounders and beacons take (design choice). */
const LARGEST_MM2 = 6;

function enough(loop: AlarmLoop): boolean {
  const got = loadVoltage(loop)?.worstVolts;
  const needed = loop.load?.minimumVoltage;
  return got !== undefined && needed !== undefined && got >= needed * (1 + MARGIN);
}

/** The next cable size at which the load gets its least voltage and 5 % more, or the words that none does. */
export function sizeCable(draft: Draft): Draft {
  const { loop } = draft;
  const { cable, load } = loop;
  if (cable === undefined || load?.minimumVoltage === undefined || enough(loop)) return draft;
  const kind = conductorKind(cable.class ?? 5, cable.tinned === true);
  const larger =
    kind === null
      ? []
      : CONDUCTORS[kind].filter(({ areaMm2 }) => areaMm2 > cable.area && areaMm2 <= LARGEST_MM2);
  const fitting = larger.find(({ areaMm2 }) =>
    enough({ ...loop, cable: { ...cable, area: areaMm2 as SquareMillimetres } }),
  );
  const now = loadVoltage(loop);
  const short = `The load would get ${now === null ? "an unknown voltage" : `${figure(now.worstVolts, 2)} V`} and needs ${figure(load.minimumVoltage, 2)} V and 5 % more`;
  if (fitting === undefined) {
    return stuck(
      draft,
      `${short}; no cable up to ${LARGEST_MM2} mm² mends that. Use a higher loop voltage or a shorter run.`,
    );
  }
  return changed(
    draft,
    { cable: { ...cable, area: fitting.areaMm2 as SquareMillimetres } },
    {
      part: "cable",
      from: `${figure(cable.area, 2)} mm²`,
      to: `${figure(fitting.areaMm2, 2)} mm²`,
      why: `${short}.`,
    },
  );
}
