import type { Provenance } from "../provenance.ts";
import type { Trouble } from "./weigh.ts";

/** Something to do, in the order given. Cautions stand before the step they belong to. */
export type Advice = { readonly kind: "caution" | "step"; readonly text: string } & Provenance;

const practice = { source: "the trade's habit", tag: "common practice" } as const;
const ours = { source: "Earthbell", tag: "design choice" } as const;

const CAUTION: Advice = {
  kind: "caution",
  text: "Metal near a faulty array may be live. Keep off roof, frames, cables and gutters until a licensed person has made it safe; open no connector before zero current is proven in it.",
  ...practice,
};
const NO_WET_ROOF: Advice = {
  kind: "caution",
  text: "No roof work while it is wet. Measure a wet fault from the ground.",
  ...ours,
};

const step = (text: string, from: Provenance = practice): Advice => ({ kind: "step", text, ...from });

const BY_TROUBLE: Readonly<Record<Trouble, readonly Advice[]>> = {
  healthy: [step("Keep the record running; measure once in dry weather and keep the visit as a reference.")],
  "moisture-driven": [
    CAUTION,
    NO_WET_ROOF,
    step("Take readings from the ground early on a wet morning, when the fault exists, string by string."),
    step("Look, when dry, where water gets in: connectors, junction boxes, isolators, damaged back sheets."),
  ],
  hard: [
    CAUTION,
    step("Take a visit's readings now, wet or dry: a hard fault stays, and can be located."),
    step("Ask what happened on the day of the step: work on the roof, a storm, an animal."),
  ],
  progressive: [
    CAUTION,
    step(
      "Measure string by string now, and again after some months: the string that falls holds the damage.",
    ),
    step("Plan the repair before the earliest date of the forecast, not its middle.", ours),
  ],
  intermittent: [
    CAUTION,
    step("Compare the low mornings with wind, tracker position and work on site: movement chafes cables."),
    step(
      "Look at cable loops, clips, edges of rails and moving joints; read again after each is moved by hand, de-energised.",
    ),
  ],
  sensor: [
    step("Prove the detector with a test resistor before its readings are believed again."),
    step("Compare one reading with an insulation tester; check the unit and the data link of the record."),
    step("Until then count the array as unwatched: a broken detector hides a fault.", ours),
  ],
  "too-little-data": [
    step("Record one reading each morning, with temperature, humidity and rain if they are to be had."),
  ],
};

export function adviceFor(verdict: Trouble, belowThreshold: boolean): readonly Advice[] {
  if (!belowThreshold) return BY_TROUBLE[verdict];
  const now = step(
    "The newest reading is below the threshold: treat it as an alarm, whatever the history says.",
    ours,
  );
  const rest = BY_TROUBLE[verdict].filter((advice) => advice !== CAUTION);
  return [CAUTION, now, ...rest];
}
