import type { Step } from "@earthbell/engine";
import { useAnswer } from "../desk/use-answer.ts";
import { useMe } from "../desk/session.ts";
import { ask } from "../engine/ask.ts";
import type { KeptVisit } from "../keep/kept.ts";
import { takeReading } from "./change-visit.ts";
import type { ChangeVisit } from "./use-visit.ts";

/** As the desk of the demonstration tells it. */
interface HiddenDamage {
  readonly site: string;
  readonly array: string;
  readonly string: string;
  readonly at: number;
  readonly ohms: number;
}

/** Records what it reads for a step; rejected where nothing could be read. */
export type Measure = (step: Step) => Promise<void>;

/**
 * Answers a step in place of an instrument, at the desk of a demonstration: nobody stands on an invented roof. Null for every
 * real array.
 */
export function useStandIn(kept: KeptVisit | null, change: ChangeVisit): Measure | null {
  const signedIn = useMe() !== null;
  const site = kept?.place?.site ?? null;
  const { value } = useAnswer<readonly HiddenDamage[]>(
    signedIn && site !== null ? "/api/demonstration" : null,
    [],
  );
  const hidden = value?.find(
    (one) => one.site === site && kept?.visit.strings.some(({ id }) => id === one.string),
  );
  if (kept === null || hidden === undefined) return null;
  const { string, at, ohms } = hidden;
  return async (step) => {
    const wanted = step.readings.slice(kept.step === null ? 0 : kept.taken);
    const damage = { string, at, ohms };
    for (const reading of await ask("standIn", kept.setUp, damage, wanted, kept.visit.readings.length))
      change((now) => takeReading(now, now.step ?? step, reading, new Date().toISOString()));
  };
}
