import type { Provenance } from "../provenance.ts";
import type { SafetyAction } from "./actions.ts";
import type { PreconditionId } from "./preconditions.ts";

/** One caution, shown before the step it concerns. */
export interface Caution extends Provenance {
  readonly id: string;
  readonly text: string;
  /** The post that answers for the wording. */
  readonly owner: string;
  /** Day on which the text was last read against its source. No licensed person's approval is implied. */
  readonly reviewedOn: string;
  readonly appliesTo: readonly SafetyAction[];
  /** The precondition that says the same and more: where a page has it ticked before the step, that tick stands for the caution. */
  readonly askedAs?: PreconditionId;
}

const AT_THE_ARRAY: readonly SafetyAction[] = [
  "read",
  "read-with-shunt",
  "tester",
  "insulation-test",
  "isolate-string",
  "open-connector",
  "confirm",
  "prove-alarm",
  "restore",
];
const EVERYWHERE: readonly SafetyAction[] = ["arrive", "wait-dry", ...AT_THE_ARRAY];
const ON_THE_ROOF: readonly SafetyAction[] = ["open-connector", "confirm", "isolate-string", "restore"];
const MEASURING: readonly SafetyAction[] = ["read", "read-with-shunt", "tester", "insulation-test"];
const PARTING: readonly SafetyAction[] = ["isolate-string", "open-connector", "confirm"];

const reviewed = { owner: "maintainers of the safety text", reviewedOn: "2026-11-25" } as const;

/** In order of importance to somebody who reads only the first few. */
export const CAUTIONS: readonly Caution[] = [
  {
    id: "licensed-and-local",
    text: "This work can kill. It belongs to people licensed for it; the local code, the standard and the maker's instructions come before anything written here.",
    source: "Earthbell's own rule",
    tag: "design choice",
    appliesTo: EVERYWHERE,
    ...reviewed,
  },
  {
    id: "light-is-supply",
    text: "Light is the supply: the array cannot be switched off by day, and even weak light gives nearly the full open-circuit voltage.",
    source: "insulationtesting.com ?p=189; IEC 62446 poster, studylib.net 18490683",
    tag: "published",
    appliesTo: EVERYWHERE,
    ...reviewed,
  },
  {
    id: "dc-lives-on",
    text: "Take the direct-current side as live although the mains side is off.",
    source: "BS 7671 section 712",
    tag: "memory",
    appliesTo: EVERYWHERE,
    ...reviewed,
  },
  {
    id: "metal-may-be-live",
    text: "While there is an earth fault, frames, rails and bonded metal may be live. Measure them to earth before you touch or climb.",
    source: "nacleanenergy.com, best practices in PV system ground-fault testing",
    tag: "published",
    appliesTo: EVERYWHERE,
    ...reviewed,
  },
  {
    id: "damage-strays",
    text: "A damaged array can put voltage on roofing, gutters and flashing by ways nobody foresees.",
    source: "trade knowledge of damaged arrays",
    tag: "memory",
    appliesTo: EVERYWHERE,
    ...reviewed,
  },
  {
    id: "second-fault",
    text: "On a floating array the second earth fault closes a short circuit through earth. Find the first one soon, and stop if a reading says there are two.",
    source: "theory of unearthed direct-current systems",
    tag: "memory",
    appliesTo: EVERYWHERE,
    ...reviewed,
  },
  {
    id: "prove-zero-current",
    text: "Prove zero current in the conductor with a direct-current clamp before any connector, fuse or link is parted. Parted under load it draws an arc that does not go out by itself.",
    source: "trade rule; open-or-covered string rule in Solar Power in Building Design p. 121",
    tag: "memory",
    appliesTo: PARTING,
    ...reviewed,
  },
  {
    id: "clamp-and-voltmeter",
    text: "A wounded array is the most dangerous kind. Bring a direct-current clamp as well as a voltmeter, and use both before you touch.",
    source: "RE-wrenches list, 6 September 2010, lists.re-wrenches.org",
    tag: "published",
    appliesTo: ["arrive", ...PARTING],
    ...reviewed,
  },
  {
    id: "prove-test-prove",
    text: "Prove the tester on a known source, test, prove the tester again.",
    source: "trade rule for proving dead",
    tag: "memory",
    appliesTo: [...MEASURING, ...PARTING, "prove-alarm"],
    askedAs: "instrument-proved",
    ...reviewed,
  },
  {
    id: "lock-and-tag",
    text: "Switch off, lock, tag, verify by voltmeter, and record who did it and when.",
    source: "trade rule for lockout",
    tag: "memory",
    appliesTo: AT_THE_ARRAY,
    askedAs: "array-isolated-both-poles",
    ...reviewed,
  },
  {
    id: "wear-protection",
    text: "Wear at least gloves for the highest array voltage and eye protection; add arc clothing where the arc energy asks for it. Arrays reach 1,500 V.",
    source: "nacleanenergy.com, best practices in PV system ground-fault testing",
    tag: "published",
    appliesTo: AT_THE_ARRAY,
    askedAs: "protective-equipment-worn",
    ...reviewed,
  },
  {
    id: "estimate-arc-energy",
    text: "The arc energy has to be estimated beforehand; for direct current the methods are less settled than for alternating current, so allow a margin.",
    source: "29 CFR 1910.269(l)(8)(ii), seen at ishn.com; studylib.net 18234407",
    tag: "published",
    appliesTo: PARTING,
    ...reviewed,
  },
  {
    id: "loose-ends",
    text: "A loose, unterminated string cable has shocked people at about 176 V direct current: terminate the far end before modules are plugged together.",
    source: "egt.net.au Safety Alert 26, 25 October 2010",
    tag: "published",
    appliesTo: ["open-connector", "confirm", "isolate-string", "restore"],
    ...reviewed,
  },
  {
    id: "capacitive-shock",
    text: "A wet or dirty array without separation from the mains can give a capacitive shock; the fall it causes is the greater harm.",
    source: "fallonsolutions.com.au, PV shutdown article",
    tag: "published",
    appliesTo: ["arrive", ...ON_THE_ROOF],
    ...reviewed,
  },
  {
    id: "no-wet-roof",
    text: "No work on a wet or windy roof. A fault that shows only when wet is measured from the ground.",
    source: "Earthbell's own rule",
    tag: "design choice",
    appliesTo: ["arrive", "wait-dry", ...ON_THE_ROOF],
    ...reviewed,
  },
  {
    id: "let-charge-off",
    text: "An insulation tester charges the array: keep hands off until the charge is let off and its absence measured.",
    source: "IEC 62446-1 practice",
    tag: "memory",
    appliesTo: ["tester", "insulation-test", ...PARTING],
    ...reviewed,
  },
  {
    id: "short-by-switch",
    text: "Where positive and negative are joined for a test, join and part them through a switch rated for the direct voltage and current, never by plugging connectors.",
    source: "IEC 62446-1 method 2 practice",
    tag: "memory",
    appliesTo: ["tester", "insulation-test"],
    ...reviewed,
  },
  {
    id: "resistor-at-shock-level",
    text: "The test resistor carries a current at shock level: use an enclosed resistor of the stated rating, a switch rated for the direct voltage, a time limit, and nobody near the array.",
    source: "V²/R and V/R at the highest array voltage",
    tag: "computed",
    appliesTo: ["prove-alarm", "read-with-shunt"],
    ...reviewed,
  },
  {
    id: "earthed-conductor-may-be-live",
    text: "A conductor that is normally at earth may be off earth and live once its ground-fault fuse or interrupter has opened.",
    source: "meaning of the NEC 690.5(C) label",
    tag: "memory",
    appliesTo: EVERYWHERE,
    ...reviewed,
  },
  {
    id: "no-repeated-reset",
    text: "Do not reset the alarm again and again to see whether it holds. Find the cause.",
    source: "judgement; one listed design forces a manual reset at the fifth event in 24 h",
    tag: "design choice",
    appliesTo: ["arrive", "restore", "wait-dry"],
    ...reviewed,
  },
];

/** The cautions to show before an action, most important first. */
export function cautionsFor(action: SafetyAction): readonly Caution[] {
  return CAUTIONS.filter((caution) => caution.appliesTo.includes(action));
}
