import { COMMIT } from "@earthbell/engine";
import { percent } from "../terminal/strip.ts";
import type { Entry } from "./entry.ts";

const group = "verdicts of a finding";
const from = "engine, limits at which the finder commits itself; design choice";

/** What the finder can say of a visit. */
export const verdictCodes: readonly Entry[] = [
  {
    code: "located",
    group,
    title: "One place is almost certainly damaged",
    meaning: `The likeliest place holds at least ${percent(COMMIT.located)} of the probability.`,
    next: "Confirm it by the proposed opening, under its cautions, before anything is repaired.",
    from,
  },
  {
    code: "narrowed",
    group,
    title: "A few neighbouring places are left",
    meaning: `The places that hold ${percent(COMMIT.credibleLevel)} lie within ${COMMIT.narrowedModules} modules of one string.`,
    next: "Take the proposed step; one opening usually decides.",
    from,
  },
  {
    code: "cannot-tell",
    group,
    title: "These readings cannot tell",
    meaning: "Too many places, or a healthy or wet array, explain the readings as well.",
    next: "Take the proposed readings. Do not open connectors on the strength of this finding.",
    from,
  },
  {
    code: "no-fault",
    group,
    title: "Healthy leakage explains the readings",
    meaning: `No fault explains them better, with at least ${percent(COMMIT.noFault)}. A fault that shows only when wet may be hiding.`,
    next: "Keep the readings as a reference; measure again in the weather in which the alarm operated.",
    from,
  },
  {
    code: "more-than-one",
    group,
    title: "More than one place is damaged",
    meaning: `Two faults explain the readings with at least ${percent(COMMIT.moreThanOne)}; one does not.`,
    next: "Keep away: the second fault can close a circuit through earth. Divide the string as proposed.",
    from,
  },
  {
    code: "inconsistent",
    group,
    title: "The readings contradict each other",
    meaning: "Whatever the leak, not all of these readings can be true within the errors of meter and light.",
    next: "Take the doubtful reading again, as the finding says, before anything else.",
    from,
  },
];
