import type { Reason } from "../assess/assessment.ts";
import type { PvArray, Site } from "../assess/site.ts";
import { choiceOfPacks } from "./candidates.ts";
import { decideWork, type DutyWithPacks } from "./decide-work.ts";
import { partsOf, type Work } from "./known-facts.ts";
import type { RulePack } from "./pack.ts";
import { unique } from "./reasons.ts";

/**
 * Whether the rules of the place require an earth-fault alarm on an array.
 *
 * Every way in which the unknown facts may fall is worked through. The answer is "undecided", naming what is missing,
 * unless all of them agree. An altered array is judged for the alteration and for the installation; a duty that
 * either brought stays.
 *
 * @param packs  the rule packs held, built-in and the user's
 * @throws RangeError ASSESS_REFERENCE_UNKNOWN when the array names a module or inverter that the site does not have
 * Check: checks/duty-dates, checks/duty-voltage
 */
export function decideDuty(array: PvArray, site: Site, packs: readonly RulePack[]): DutyWithPacks {
  const parts = partsOf(array, site);
  const choice = choiceOfPacks(site.place, packs);
  const [latest, earlier] = worksOf(array).map((work) => decideWork(parts, site, work, choice, packs));
  return earlier === undefined ? latest! : combined(ofWork(latest!, "altered"), ofWork(earlier, "installed"));
}

/** Every pack that may bind for a work on the array, its installation or its alteration. */
export function packsOfWorks(array: PvArray, site: Site, packs: readonly RulePack[]): readonly RulePack[] {
  const parts = partsOf(array, site);
  const choice = choiceOfPacks(site.place, packs);
  const works = worksOf(array).map((work) => decideWork(parts, site, work, choice, packs));
  return [...new Set(works.flatMap((work) => work.packs))];
}

/** The latest work first. */
function worksOf(array: PvArray): readonly Work[] {
  const begun = array.workBegan === undefined ? {} : { begun: array.workBegan };
  const installation = array.installed === undefined ? {} : { done: array.installed };
  return array.altered === undefined
    ? [{ what: "installed", ...installation, ...begun }]
    : [
        { what: "altered", done: array.altered, ...begun },
        { what: "installed", ...installation },
      ];
}

function ofWork(duty: DutyWithPacks, work: Work["what"]): DutyWithPacks {
  return { ...duty, mayBind: duty.mayBind.map((pack) => ({ ...pack, work })) };
}

function combined(alteration: DutyWithPacks, installation: DutyWithPacks): DutyWithPacks {
  if (alteration.alarm === "required")
    return installation.alarm === "required"
      ? alteration
      : { ...alteration, reasons: [...alteration.reasons, ALTERED_ARRAY_ALARMED] };
  if (installation.alarm === "required")
    return { ...installation, reasons: [...installation.reasons, DUTY_STAYS] };
  if (alteration.alarm === "undecided" && installation.alarm === "undecided")
    return bothOpen(alteration, installation);
  return installation.alarm === "undecided" ? installation : alteration;
}

/** Neither work settles it: both are told, because either may bring the duty. */
function bothOpen(alteration: DutyWithPacks, installation: DutyWithPacks): DutyWithPacks {
  const same = alteration.rulePack === installation.rulePack;
  const rulePack = same ? alteration.rulePack : null;
  const packs = [...new Set([...installation.packs, ...alteration.packs])];
  return {
    alarm: "undecided",
    rulePack,
    row: same && alteration.row === installation.row ? alteration.row : null,
    alternatives: packs.filter((pack) => pack.id !== rulePack).map((pack) => pack.id),
    mayBind: [...installation.mayBind, ...alteration.mayBind],
    reasons: unique([...installation.reasons, ...alteration.reasons]),
    missing: missingOfBoth(alteration.missing, installation.missing),
    packs,
  };
}

/** What both works lack is said once, and what only one lacks with the name of that work. */
function missingOfBoth(alteration: readonly string[], installation: readonly string[]): readonly string[] {
  return [
    ...installation.filter((what) => alteration.includes(what)),
    ...installation
      .filter((what) => !alteration.includes(what))
      .map((what) => `for the installation: ${what}`),
    ...alteration.filter((what) => !installation.includes(what)).map((what) => `for the alteration: ${what}`),
  ];
}

const ALTERED_ARRAY_ALARMED: Reason = {
  text: "The alteration brought the duty. An alarm watches the array as one circuit, so it covers the unaltered part too; the authority may ask less of that part.",
  source: "rule for altered arrays",
  tag: "design choice",
};

const DUTY_STAYS: Reason = {
  text: "The installation brought the duty, and an alteration does not end it.",
  source: "rule for altered arrays",
  tag: "design choice",
};
