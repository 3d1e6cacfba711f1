import type { BeaconShows } from "@earthbell/model";
import type { Clock } from "../clock.ts";
import type { Channel, ChannelKind, Envelope, SendOutcome } from "../tell/channel.ts";
import type { Said } from "../tell/conversation.ts";

/** What came of trying a way of telling out, and what was said meanwhile. */
export interface TriedOut {
  readonly outcome: SendOutcome["outcome"];
  readonly text: string;
  readonly said: readonly Said[];
}

const MOST_LINES = 200;
const LONGEST_MS = 60_000;

/** Sends a test by a channel, over a connection of its own. It goes past the outbox, since nobody waits for it. */
export async function tryOut(
  channel: Channel,
  { to, by, desk, shows }: TestMessage,
  clock: Clock,
): Promise<TriedOut> {
  const said: Said[] = [];
  const envelope = testEnvelope(channel.kind, { to, by, desk, shows }, clock.now());
  const outcome = await channel
    .send(envelope, AbortSignal.timeout(LONGEST_MS), (line) => {
      if (said.length < MOST_LINES) said.push(line);
    })
    .catch(
      (error: unknown): SendOutcome => ({
        outcome: "later",
        reason: error instanceof Error ? error.message : String(error),
      }),
    );
  const text = outcome.outcome === "accepted" ? outcome.reply : outcome.reason;
  return { outcome: outcome.outcome, text, said };
}

interface TestMessage {
  /** Address; of a beacon its id. */
  readonly to: string;
  readonly by: string;
  readonly desk: string;
  /** What the beacon shows now: a test tells it nothing else. */
  readonly shows: BeaconShows;
}

function testEnvelope(channel: ChannelKind, { to, by, desk, shows }: TestMessage, now: number): Envelope {
  return {
    key: JSON.stringify(["test", channel, to, now]),
    channel,
    address: to,
    person: channel === "mqtt" ? to : by,
    site: "desk",
    matter: "test",
    kind: "drill",
    sequence: 1,
    subject: `Test of ${desk}: nothing has happened`,
    text: `${by} tries out whether messages of ${desk} arrive here. No fault was found, and nothing needs to be done.`,
    ...(channel === "mqtt" ? shows : {}),
    writtenAt: now,
  };
}
