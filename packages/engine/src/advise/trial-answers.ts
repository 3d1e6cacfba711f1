import { dailyHours } from "../notice/assumptions.ts";
import type { Celsius, Metres, VoltAmperes, Volts, Watts } from "../quantity/index.ts";
import type { AdviceAnswers, QuestionId } from "./answers.ts";

const owner = { id: "owner", role: "owner", reads: dailyHours(7, 22), checksPerDay: 4 } as const;
const service = { id: "service", role: "service", reads: dailyHours(7, 17, 5), checksPerDay: 10 } as const;

/**
 * Answers that such a question usually gets, the most usual first: they are tried to see how much hangs on a question
 * that has not been answered. None of them ever stands in an answer. [design choice]
 */
export const TRIAL_ANSWERS: { readonly [Id in QuestionId]: readonly NonNullable<AdviceAnswers[Id]>[] } = {
  place: [{ country: "AU", region: "VIC" }, { country: "NZ" }, { country: "US" }, { country: "GB" }],
  installed: ["2020-06-01", "2011-06-01", "2015-03-01", "2023-06-01"],
  strings: [[14, 14], [2], Array.from({ length: 12 }, () => 18)],
  module: [
    { pmax: 410 as Watts, voc: 49 as Volts },
    { pmax: 60 as Watts, voc: 12 as Volts },
  ],
  lowestTemperature: [0 as Celsius, -20 as Celsius],
  inverter: [
    { ratedPower: 10_000 as VoltAmperes, separation: "none" },
    { ratedPower: 50_000 as VoltAmperes, separation: "simple" },
  ],
  earthing: ["floating", "functional", "solid"],
  mounting: ["building", "field"],
  people: [[owner, service], [owner], []],
  present: [dailyHours(7, 19), dailyHours(8, 17, 5), []],
  network: ["owners-router", "none", "mobile"],
  light: [
    { passesPerDay: 6, viewingDistance: 4 as Metres, accessible: true },
    { passesPerDay: 0.2, viewingDistance: 4 as Metres, accessible: true },
    { accessible: false },
  ],
  relay: ["any-fault", "none"],
};
