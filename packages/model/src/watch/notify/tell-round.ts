import { WATCH_LIMITS, type WatchLimits } from "../limits.ts";
import type { Delivery } from "./delivery.ts";
import type { Matter } from "./matter.ts";
import { pathInReach, reachChangesAt, type TellPath, type TellPerson } from "./recipients.ts";
import { shouldTell } from "./should-tell.ts";
import type { TellDecision } from "./tell-decision.ts";

/** What one look at one matter and one path comes to. */
export interface TellRound {
  readonly decisions: readonly { readonly person: string; readonly decision: TellDecision }[];
  /** What is wrong with the path at this instant, for the other recipients and the desk to see. */
  readonly remarks: readonly string[];
  readonly nextLookAt: number | null;
}

/** Asks `shouldTell` for everybody on a path, with the path bent around those who cannot be reached. */
export function tellRound(
  matter: Matter,
  path: TellPath,
  people: readonly TellPerson[],
  deliveries: readonly Delivery[],
  now: number,
  limits: WatchLimits = WATCH_LIMITS,
): TellRound {
  const reached = pathInReach(path, people, now);
  const ids = [...new Set([...path.to, ...(path.ladder ?? []).flatMap(({ to }) => to)])];
  const known = people.filter(({ id }) => ids.includes(id));
  const unknown = ids.filter((id) => known.every((person) => person.id !== id));
  const decisions = known.map((person) => {
    const last = lastDelivery(deliveries, matter.id, path.id, person.id);
    return { person: person.id, decision: shouldTell(matter, person, reached.path, last, now, limits) };
  });
  const looks = decisions.map(({ decision }) => decision.nextLookAt).filter((at) => at !== null);
  // Who goes on leave tonight changes who has to be told instead.
  const changes = known.map((person) => reachChangesAt(person, now)).filter((at) => at !== null);
  return {
    decisions,
    remarks: [
      ...reached.remarks,
      ...unknown.map((id) => `${id} is on path ${path.id} and is not among the people known.`),
    ],
    nextLookAt: looks.length === 0 ? null : Math.min(...looks, ...changes),
  };
}

/** The newest by sequence: instants can be equal, and clocks can go back. */
function lastDelivery(
  deliveries: readonly Delivery[],
  matter: string,
  path: string,
  person: string,
): Delivery | null {
  const own = deliveries.filter((one) => one.matter === matter && one.path === path && one.person === person);
  return own.toSorted((one, other) => other.sequence - one.sequence)[0] ?? null;
}
