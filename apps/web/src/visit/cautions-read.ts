import { type Caution, cautionsFor, type Step } from "@earthbell/engine";
import type { KeptVisit } from "../keep/kept.ts";
import { stands } from "./standing.ts";

/** Actions that part a conductor: before the first of each all its cautions stand open, whatever was read before another step. */
export const PARTING: ReadonlySet<Step["action"]> = new Set(["isolate-string", "open-connector", "confirm"]);

type Read = KeptVisit["read"];
type ToDo = Pick<Step, "action" | "requires">;

export interface CautionsOfStep {
  /** To be read now; empty when nothing of the step waits for it. */
  readonly fresh: readonly Caution[];
  /** Read before on this visit, or at its case, some hours ago at most. */
  readonly before: readonly Caution[];
  /** When the one of those that was read longest ago was read: an instant, ISO 8601 in UTC. */
  readonly since: string | null;
  /** Said in full by what has to be ticked before the step. */
  readonly asked: readonly Caution[];
}

/** Which cautions of a step still have to be read, and which were within the last hours and need not drown them. */
export function cautionsOfStep(read: Read, { action, requires }: ToDo, now: string): CautionsOfStep {
  const cautions = cautionsFor(action);
  const asked = cautions.filter(({ askedAs }) => askedAs !== undefined && requires.includes(askedAs));
  const listed = cautions.filter((caution) => !asked.includes(caution));
  const known = listed.filter(({ id }) => stands(read[id], now));
  const unread = listed.filter((caution) => !known.includes(caution));
  const inFull = PARTING.has(action) && !stands(read[action], now);
  const before = inFull ? [] : known;
  const since = before.map(({ id }) => read[id]!).sort()[0] ?? null;
  return { fresh: inFull ? listed : unread, before, since, asked };
}

/** The cautions that stood open before this step are read now. Those that were folded keep the instant at which they were. */
export function withCautionsRead(read: Read, step: ToDo, now: string): Read {
  const shown = cautionsOfStep(read, step, now).fresh.map(({ id }) => [id, now] as const);
  return { ...read, ...Object.fromEntries(shown), [step.action]: now };
}
