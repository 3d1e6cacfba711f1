import { type TriedOut, tryOut } from "../settings/try-out.ts";
import { appendJournal } from "../store/index.ts";
import type { ToldWay } from "../told/told-people.ts";
import type { DeskParts } from "./desk-parts.ts";
import { RequestFault } from "./request-fault.ts";

/** A test leaves the desk and reaches somebody: few of them from one sender. */
export const FEW_TESTS = { rateLimit: { max: 6, timeWindow: "1 minute" } };

/** No beacon is asked. */
const NOTHING = { raised: [], drills: [] } as const;

/**
 * Sends one test to an address, and puts on record what came of it.
 *
 * @throws RequestFault REQUEST_UNKNOWN for a channel that is not set up
 */
export async function sendTest(
  { setUp, store, clock, name: desk }: DeskParts,
  { channel: asked, address: to }: ToldWay,
  by: string,
): Promise<TriedOut> {
  const channel = setUp.channels.find((one) => one.kind === asked);
  if (channel === undefined)
    throw new RequestFault("REQUEST_UNKNOWN", `The settings of this desk set up no ${asked}.`);
  const result = await tryOut(channel, { to, by, desk, shows: NOTHING }, clock);
  const text = `Test by ${asked} to ${to}: ${result.outcome}, ${result.text}`;
  const row = { at: clock.now(), kind: "watch", site: null, subject: "test", by, text };
  await store.amend((tx) => appendJournal(tx, [row]));
  return result;
}
