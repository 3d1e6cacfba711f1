import type { Place } from "../assess/site.ts";
import { inSpan } from "./case.ts";
import type { RulePack, Window } from "./pack.ts";

/** A pack that may bind, and the window that brought it in; no pack: nothing held here covers the case. */
export interface Candidate {
  readonly pack: RulePack | null;
  readonly window: Window | null;
}

/** How the packs of a place are chosen. */
export interface Choice {
  /** named: by the site file; date: by the windows; adoption: by an authority's act that the file does not state. */
  readonly by: "named" | "date" | "adoption" | "nothing";
  readonly packs: readonly RulePack[];
}

export function choiceOfPacks(place: Place, packs: readonly RulePack[]): Choice {
  const name = place.rules?.pack;
  if (name !== undefined) return { by: "named", packs: packs.filter((pack) => pack.id === name) };
  const here = packs.filter((pack) =>
    pack.jurisdictions.some((jurisdiction) => jurisdiction.country === place.country),
  );
  const byDate = here.filter((pack) => pack.selectedBy === "date");
  if (byDate.length > 0) return { by: "date", packs: byDate };
  return here.length > 0 ? { by: "adoption", packs: here } : { by: "nothing", packs: [] };
}

/**
 * Whether a pack can have been adopted by the day of a work: an edition bears the year for which it is made and is issued,
 * and may be adopted, late in the year before [memory: NFPA 70 is issued in the summer before its year].
 *
 * @param day  YYYY-MM-DD; empty: not known, and then every edition can
 */
export function couldBeAdoptedBy(pack: RulePack, day: string): boolean {
  const year = /^\d{4}/u.exec(pack.edition)?.[0];
  return year === undefined || day === "" || Number(day.slice(0, 4)) >= Number(year) - 1;
}

/** Where and when a case is. */
export interface Occasion {
  readonly country: string;
  readonly region: string;
  readonly done: string;
  readonly begun: string;
}

/** The packs that may bind on an occasion; never empty. */
export function candidatesAt(choice: Choice, occasion: Occasion): readonly Candidate[] {
  const none: Candidate = { pack: null, window: null };
  switch (choice.by) {
    case "nothing":
      return [none];
    case "named":
      return choice.packs.length === 0 ? [none] : choice.packs.map((pack) => ({ pack, window: null }));
    case "adoption":
      // The authority may also have adopted an edition that is not held here.
      return [
        ...choice.packs
          .filter((pack) => couldBeAdoptedBy(pack, occasion.done))
          .map((pack) => ({ pack, window: null })),
        none,
      ];
    case "date": {
      const inForce = choice.packs.flatMap((pack) => openWindows(pack, occasion));
      return inForce.length > 0 ? inForce : [none];
    }
  }
}

function openWindows(pack: RulePack, occasion: Occasion): readonly Candidate[] {
  const binds = pack.jurisdictions.some(
    ({ country, regions }) =>
      country === occasion.country && (regions === undefined || regions.includes(occasion.region)),
  );
  if (!binds) return [];
  const window = pack.inForce.find((candidate) =>
    inSpan(candidate, candidate.basis === "work-begun" ? occasion.begun : occasion.done),
  );
  return window === undefined ? [] : [{ pack, window }];
}
