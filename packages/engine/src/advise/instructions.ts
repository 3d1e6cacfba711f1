import type { Path } from "../assess/site.ts";
import { LIGHT_THRESHOLDS } from "../path/light.ts";
import type { Sourced } from "../provenance.ts";
import { OWNER_MUST_BE_TOLD } from "../safety/index.ts";
import type { AdviceAnswers } from "./answers.ts";

/** What to do for one signal of a plan: what to set, how to test it, what the owner is told of it. */
export interface Instructions {
  readonly signal: Path["signal"];
  readonly set: readonly Sourced<string>[];
  readonly test: readonly Sourced<string>[];
  readonly tell: readonly Sourced<string>[];
}

const practice = (value: string): Sourced<string> => ({
  value,
  source: "practice of the trade",
  tag: "common practice",
});
const ours = (value: string): Sourced<string> => ({
  value,
  source: "rule of this program",
  tag: "design choice",
});

/** The test of every signal, before what is particular to one. */
export const END_TO_END = practice(
  "A licensed person, after the cautions above, connects the test resistor from one pole to earth and sees each signal come, from the detector to the person; then removes it and sees the signals clear.",
);

type Written = Omit<Instructions, "signal">;

function message({ people = [], network }: AdviceAnswers): Written {
  const names = people.map(({ id }) => id).join(", ");
  const missing = people.filter(({ address }) => address === undefined).map(({ id }) => id);
  return {
    set: [
      ...(people.length < 2
        ? [
            practice(
              `Name at least one more address than ${names}: one illness or one full mailbox must not lose the alarm.`,
            ),
          ]
        : [practice(`Send it to every one of ${names}, each at an address of their own.`)]),
      ...(missing.length === 0 ? [] : [ours(`Record the address of ${missing.join(", ")}.`)]),
      practice("Repeat it hourly until somebody acknowledges it or the fault is cleared."),
      ours("Have the link report in daily, and treat its silence as a fault."),
      ...(network === "owners-router"
        ? [
            ours(
              "Write on the router what hangs on it: a changed password or a new router ends the alarm without a word.",
            ),
          ]
        : []),
      practice("Change the maker's installer password and record that it was changed."),
    ],
    test: [
      ours(
        "Note how long each person took to acknowledge; unplug the link once and see that its silence is reported.",
      ),
    ],
    tell: [
      practice(
        `A fault is reported by message${names === "" ? "" : ` to ${names}`}, hourly until it is answered. It needs the network: say so before changing the router or the provider.`,
      ),
    ],
  };
}

/** Effective intensity that is just found by bright day from a distance: I = E · d². */
const candelaByDay = (metres: number): number =>
  Math.ceil(10 * LIGHT_THRESHOLDS["bright-day"].value * metres ** 2) / 10;

const BEACON: Sourced<string> = {
  value: `Where it is loud, or somebody does not hear well, use a beacon, or one beside the sounder, in view with nothing between: by bright day it takes ${candelaByDay(20)} cd of effective intensity from 20 m and ${candelaByDay(50)} cd from 50 m, ten times that if it is red.`,
  source: "illuminance at the eye I/d² against a daylight threshold; the red-blind eye takes a tenth of red",
  tag: "memory",
};

function annunciator({ relay }: AdviceAnswers): Written {
  return {
    set: [
      ours(
        "Wire it so that a cut cable or a flat battery sounds it: contact closed and loop energised when sound, or a supervised loop with its resistor at the far end.",
      ),
      ours(
        "Size cable, fuse, contact and battery for the battery at its end and the cable hot before buying.",
      ),
      BEACON,
      ...(relay === "earth-fault"
        ? []
        : [practice("The contact operates for any inverter fault: label the sounder so.")]),
    ],
    test: [
      ours(
        "Measure the voltage at the sounder while it sounds and the sound where people are; cut the loop once, and run it on the battery alone.",
      ),
    ],
    tell: [
      practice(
        relay === "earth-fault"
          ? "The sounder means an earth fault on the solar array."
          : "The sounder means a fault of the inverter, which may be an earth fault on the array: treat it as one.",
      ),
    ],
  };
}

function indicator({ light }: AdviceAnswers): Written {
  const passes = light?.passesPerDay;
  return {
    set: [
      practice(
        "Keep the light free to see, and put a label beside it that says what it means and whom to call.",
      ),
      ...(passes !== undefined && passes < 4
        ? [ours("Make looking at it somebody's daily duty, and write down whose.")]
        : []),
    ],
    test: [ours("See the light from where people pass, by day, in the sun.")],
    tell: [
      practice(
        "The inverter's light operates for any inverter fault, not only an earth fault. It only helps if somebody looks at it every day.",
      ),
    ],
  };
}

const WRITERS: Readonly<Record<Path["signal"], (answers: AdviceAnswers) => Written>> = {
  message,
  annunciator,
  indicator,
};

export function instructionsFor(
  signals: readonly Path["signal"][],
  answers: AdviceAnswers,
): readonly Instructions[] {
  return signals.map((signal) => ({ signal, ...WRITERS[signal](answers) }));
}

/** What the owner is told of whichever signal there is. */
export const TELL_OWNER: readonly Sourced<string>[] = OWNER_MUST_BE_TOLD;
