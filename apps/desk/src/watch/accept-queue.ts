import type { WatchReading } from "@earthbell/model";
import type { Accept, Accepted } from "../listen/accept.ts";
import { keyOf, type Outcome } from "./take-readings.ts";

/** Takes batches in, in one transaction; the outcome of each reading, batch by batch. */
type TakeBatches = (
  batches: readonly (readonly WatchReading[])[],
) => Promise<readonly (readonly Outcome[])[]>;

interface Waiting {
  readonly readings: readonly WatchReading[];
  readonly resolve: (accepted: Accepted) => void;
  readonly reject: (error: unknown) => void;
}

/** Most readings of one transaction; those of one batch are never parted. */
const READINGS_AT_ONCE = 2000;

/**
 * Batches that arrive while a transaction is under way go together into the next one: storing durably costs about the
 * same for one reading as for many. A batch that makes the transaction fail does so alone.
 */
export function acceptTogether(take: TakeBatches): Accept {
  const waiting: Waiting[] = [];
  let busy = false;

  const drain = async (): Promise<void> => {
    busy = true;
    while (waiting.length > 0) {
      const together = nextOf(waiting);
      if (!(await attempt(take, together)) && together.length > 1)
        for (const one of together) await attempt(take, [one], true);
    }
    busy = false;
  };

  return (readings) =>
    new Promise((resolve, reject) => {
      waiting.push({ readings, resolve, reject });
      if (!busy) void drain();
    });
}

function nextOf(waiting: Waiting[]): readonly Waiting[] {
  let count = 0;
  const end = waiting.findIndex(({ readings }, place) => {
    count += readings.length;
    return place > 0 && count > READINGS_AT_ONCE;
  });
  return waiting.splice(0, end === -1 ? waiting.length : end);
}

/** @returns false where the batches have to be tried one by one */
async function attempt(take: TakeBatches, together: readonly Waiting[], alone = together.length === 1) {
  try {
    const outcomes = await take(together.map(({ readings }) => readings));
    for (const [place, one] of together.entries()) one.resolve(acceptedOf(one.readings, outcomes[place]!));
    return true;
  } catch (error) {
    if (alone) for (const one of together) one.reject(error);
    return false;
  }
}

function acceptedOf(readings: readonly WatchReading[], outcomes: readonly Outcome[]): Accepted {
  return {
    taken: outcomes.filter((outcome) => outcome === "taken").length,
    known: outcomes.filter((outcome) => outcome === "known").length,
    setAside: outcomes.flatMap((outcome, place) =>
      typeof outcome === "string" ? [] : [{ key: keyOf(readings[place]), reason: outcome.setAside }],
    ),
  };
}
