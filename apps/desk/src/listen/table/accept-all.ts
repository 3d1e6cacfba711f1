import type { WatchReading } from "@earthbell/model";
import type { Accept, Accepted } from "../accept.ts";

/** Readings that go into one transaction. */
const AT_ONCE = 2000;
/** Set-aside readings that are listed. */
const MOST_LISTED = 100;

/** Hands the readings of a table over, some at a time; what was handed over before a failure is known when it is tried again. */
export async function acceptAll(accept: Accept, readings: readonly WatchReading[]): Promise<Accepted> {
  const sum = { taken: 0, known: 0, setAside: [] as { readonly key: string; readonly reason: string }[] };
  for (let from = 0; from < readings.length; from += AT_ONCE) {
    const { taken, known, setAside } = await accept(readings.slice(from, from + AT_ONCE));
    sum.taken += taken;
    sum.known += known;
    sum.setAside.push(...setAside.slice(0, MOST_LISTED - sum.setAside.length));
  }
  return sum;
}
