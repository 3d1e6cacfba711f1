import { type TriedOut, tryOut } from "../settings/try-out.ts";
import { appendJournal } from "../store/index.ts";
import type { ChannelKind } from "../tell/channel.ts";
import { shownBy } from "../watch/index.ts";
import type { DeskParts } from "./desk-parts.ts";
import { RequestFault } from "./request-fault.ts";

/** A test leaves the desk and reaches somebody: few of them from one sender. */
export const FEW_TESTS = { rateLimit: { max: 6, timeWindow: "1 minute" } };

/**
 * Sends one test to an address, of a beacon to its id, and puts on record what came of it.
 *
 * @throws RequestFault REQUEST_UNKNOWN for a channel that is not set up
 */
export async function sendTest(
  { setUp, store, watch, clock, name: desk }: DeskParts,
  { channel: asked, address: to }: { readonly channel: ChannelKind; readonly address: string },
  by: string,
): Promise<TriedOut> {
  const channel = setUp.channels.find((one) => one.kind === asked);
  if (channel === undefined)
    throw new RequestFault("REQUEST_UNKNOWN", `The settings of this desk set up no ${asked}.`);
  const shows = asked === "mqtt" ? await shownBy(store.db, to) : { raised: [], drills: [] };
  const result = await tryOut(channel, { to, by, desk, shows }, clock);
  // What was read a moment ago may have changed since: the beacon is told again what is true.
  if (asked === "mqtt") await watch.relight();
  const text = `Test by ${asked} to ${to}: ${result.outcome}, ${result.text}`;
  const row = { at: clock.now(), kind: "watch", site: null, subject: "test", by, text };
  await store.amend((tx) => appendJournal(tx, [row]));
  return result;
}
