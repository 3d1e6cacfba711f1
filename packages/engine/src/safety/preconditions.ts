import type { SafetyAction } from "./actions.ts";

export type PreconditionId =
  | "licensed-person"
  | "access-safe"
  | "access-barred"
  | "protective-equipment-worn"
  | "metal-proved-dead"
  | "array-isolated-both-poles"
  | "string-isolated-both-poles"
  | "earth-references-removed"
  | "instrument-rated"
  | "instrument-proved"
  | "shunt-rated"
  | "test-voltage-permitted"
  | "zero-current-proven"
  | "charge-discharged"
  | "connection-by-dc-switch"
  | "time-limit-set"
  | "conductors-proved-dead-or-covered";

/** What must be recorded as done before a step may be ticked, in words for the person who does it. */
export const PRECONDITIONS: Readonly<Record<PreconditionId, string>> = {
  "licensed-person":
    "The work is done or directed on the spot by a person whom local law allows to work on this installation.",
  "access-safe":
    "The way to the place of work is dry, still and secured against a fall; if not, measure from the ground.",
  "access-barred": "Nobody can reach the array, its metal, its cables or its gutters while you are away.",
  "protective-equipment-worn":
    "Gloves rated for the highest array voltage (arrays reach 1,500 V) and eye protection are worn; arc clothing where the arc energy asks for it.",
  "metal-proved-dead":
    "Frames, rails, roof metal and gutters within reach were measured to earth and found without dangerous voltage.",
  "array-isolated-both-poles":
    "The array is switched off from its inverter at both poles, with the inverter stopped first; the switch is locked and tagged with name and time, and a voltmeter has verified it.",
  "string-isolated-both-poles":
    "The string is separated from every other string at both poles, by devices rated to do it and after its current was proved zero.",
  "earth-references-removed":
    "No functional earth, insulation monitor or surge arrester joins this circuit to earth during the reading.",
  "instrument-rated":
    "Meter, leads and probes are rated for the highest array voltage and for this place in the installation.",
  "instrument-proved":
    "The instrument was proved on a known source just before, and will be proved again just after.",
  "shunt-rated":
    "The resistor is enclosed, rated for the highest array voltage and for its own heat, and was measured before use.",
  "test-voltage-permitted":
    "The test voltage is one that the modules, and everything left connected, are stated to bear.",
  "zero-current-proven":
    "A direct-current clamp proved on a known current shows zero in this very conductor, now.",
  "charge-discharged":
    "Charge left by the previous insulation test was let off and its absence measured before anything is touched.",
  "connection-by-dc-switch":
    "The connection is made and broken by a switch rated for the highest array voltage in direct current, never by hand or by a connector.",
  "time-limit-set": "The longest time the connection may last is agreed, and somebody watches the clock.",
  "conductors-proved-dead-or-covered":
    "Conductors within reach that are not under test are proved dead or insulated; ends are terminated before they can be energised.",
};

const PERSON: readonly PreconditionId[] = ["licensed-person", "protective-equipment-worn"];
const READING: readonly PreconditionId[] = [
  ...PERSON,
  "array-isolated-both-poles",
  "earth-references-removed",
  "instrument-rated",
  "instrument-proved",
];
const TESTING: readonly PreconditionId[] = [...READING, "test-voltage-permitted", "access-barred"];
const OPENING: readonly PreconditionId[] = [
  ...PERSON,
  "access-safe",
  "metal-proved-dead",
  "array-isolated-both-poles",
  "instrument-rated",
  "instrument-proved",
  "zero-current-proven",
  "charge-discharged",
];

const NEEDED: Readonly<Record<SafetyAction, readonly PreconditionId[]>> = {
  arrive: ["licensed-person"],
  read: READING,
  "read-with-shunt": [...READING, "shunt-rated", "connection-by-dc-switch", "time-limit-set"],
  tester: TESTING,
  "insulation-test": TESTING,
  "isolate-string": [
    ...PERSON,
    "array-isolated-both-poles",
    "instrument-rated",
    "instrument-proved",
    "zero-current-proven",
    "charge-discharged",
  ],
  "open-connector": OPENING,
  confirm: OPENING,
  "wait-dry": ["array-isolated-both-poles", "access-barred"],
  "prove-alarm": [
    ...PERSON,
    "instrument-rated",
    "instrument-proved",
    "shunt-rated",
    "connection-by-dc-switch",
    "time-limit-set",
    "access-barred",
    "conductors-proved-dead-or-covered",
  ],
  restore: [...PERSON, "charge-discharged", "conductors-proved-dead-or-covered", "access-safe"],
};

/**
 * What must be recorded before an action is proposed as doable or ticked as done, in the order in which it is done.
 *
 * Every opening of a connector asks for proven zero current in that conductor. Source: the trade's rules for work on
 * arrays that cannot be switched off, as listed with their tags in cautions.ts; the selection is ours [design choice].
 */
export function preconditionsFor(action: SafetyAction): readonly PreconditionId[] {
  return NEEDED[action];
}
