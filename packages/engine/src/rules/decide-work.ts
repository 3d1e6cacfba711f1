import type { Duty, MayBind } from "../assess/assessment.ts";
import type { Site } from "../assess/site.ts";
import { decisiveFacts, type Outcome, outcomesOf, packIsDecisive } from "./cases.ts";
import type { Choice } from "./candidates.ts";
import { type ArrayParts, type Fact, factsFor, type Work } from "./known-facts.ts";
import type { RulePack } from "./pack.ts";
import { reasonsFor } from "./reasons.ts";

/** A duty with the packs that may bind, for the tables that come with them. */
export interface DutyWithPacks extends Duty {
  readonly packs: readonly RulePack[];
}

/** What one work on an array, its installation or its alteration, brought in duty. */
export function decideWork(
  parts: ArrayParts,
  site: Site,
  work: Work,
  choice: Choice,
  held: readonly RulePack[],
): DutyWithPacks {
  const facts = factsFor(parts, site, work, choice);
  const outcomes = outcomesOf(site.place.country, choice, facts);
  const alarms = new Set(outcomes.map((outcome) => outcome.alarm));
  const alarm = alarms.size === 1 ? outcomes[0]!.alarm : "undecided";
  const packs = [...new Set(outcomes.flatMap(({ pack }) => (pack === null ? [] : [pack])))];
  // An earlier edition that may still be used is named after the one that binds or replaces it.
  const settled = new Set(outcomes.map(({ pack }) => pack)).size === 1;
  const chosen = alarm === "undecided" && !settled ? undefined : packs.at(-1);
  const rows = new Set(outcomes.flatMap(({ pack, row }) => (pack === chosen ? [row?.id ?? null] : [])));
  return {
    alarm,
    rulePack: chosen?.id ?? null,
    row: chosen === undefined || (alarm === "undecided" && rows.size > 1) ? null : ([...rows][0] ?? null),
    alternatives: packs.filter((pack) => pack !== chosen).map((pack) => pack.id),
    mayBind: packs.length === 0 ? [] : mayBind(outcomes),
    reasons: reasonsFor({ parts, site, work, choice, outcomes, facts, alarm }),
    missing: alarm === "undecided" ? missingFor(outcomes, facts, site, choice, work, held) : [],
    packs,
  };
}

/** What each pack says: one answer where all of its cases agree. */
function mayBind(outcomes: readonly Outcome[]): readonly MayBind[] {
  return [...new Set(outcomes.map(({ pack }) => pack))].map((pack) => {
    const says = new Set(outcomes.flatMap((outcome) => (outcome.pack === pack ? [outcome.alarm] : [])));
    return { rulePack: pack?.id ?? null, says: says.size === 1 ? [...says][0]! : "undecided" };
  });
}

function missingFor(
  outcomes: ReturnType<typeof outcomesOf>,
  facts: readonly Fact[],
  site: Site,
  choice: Choice,
  work: Work,
  held: readonly RulePack[],
): readonly string[] {
  const decisive = decisiveFacts(outcomes, facts).flatMap((fact) => fact.missing);
  const packDecides = choice.by === "adoption" || packIsDecisive(outcomes);
  const pack = packDecides ? [packMissing(choice, outcomes, work), ...ifItBinds(outcomes)] : [];
  if (decisive.length + pack.length > 0) return [...pack, ...new Set(decisive)];
  return [...new Set(outcomes.map((outcome) => settledBy(outcome, site, choice, work, held)))];
}

function packMissing(choice: Choice, outcomes: readonly Outcome[], work: Work): string {
  const ids = [...new Set(outcomes.flatMap(({ pack }) => (pack === null ? [] : [pack.id])))].join(", ");
  if (choice.by !== "adoption")
    return `site.place.rules.pack: the edition that the installer chose to follow as a whole (${ids})`;
  return ids === ""
    ? `a rule pack of the edition that the authority had adopted by ${work.done ?? "the day of the work"}; the editions held here are later`
    : `site.place.rules.pack: the edition that the authority has adopted (held here: ${ids})`;
}

/** Naming a pack whose own row is open would not settle it: what would is said at once. */
function ifItBinds(outcomes: readonly Outcome[]): readonly string[] {
  return [
    ...new Set(
      outcomes.flatMap(({ pack, row }) =>
        pack === null || row?.settledBy === undefined ? [] : [`if ${pack.id} binds: ${row.settledBy}`],
      ),
    ),
  ];
}

/** What settles a case that a pack leaves open, or that no pack covers. */
function settledBy(
  outcome: Outcome,
  site: Site,
  choice: Choice,
  work: Work,
  held: readonly RulePack[],
): string {
  if (outcome.row?.settledBy !== undefined) return outcome.row.settledBy;
  if (outcome.pack !== null) return `a row of pack ${outcome.pack.id} that covers this array`;
  if (choice.by === "named")
    return `site.place.rules.pack: no pack is called ${site.place.rules?.pack ?? ""}; held are ${held.map((pack) => pack.id).join(", ")}`;
  if (choice.by === "nothing")
    return `a rule pack for ${site.place.country}; none is held, and site.place.rules.pack names none (for instance iec-62548-2016 where law or contract calls for it)`;
  return `a rule pack that was in force in ${site.place.country} for work ${work.what} on ${outcome.given.done}`;
}
