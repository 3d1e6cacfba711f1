import type { RaisedMatter } from "@earthbell/model";
import type { Envelope } from "../channel.ts";

/** Name of the format; docs/topics.md says what the fields mean. */
const FORMAT = "earthbell.beacon/1";

/** What a beacon's topic holds for lit and for out. */
export interface Payloads {
  readonly on: string;
  readonly off: string;
}

/** What is published at the topic of a beacon: one of its two payloads, or a record of everything that is raised. */
export function beaconPayload(envelope: Envelope, payloads: Payloads | undefined): string {
  const { raised = [] } = envelope;
  if (payloads !== undefined) return raised.length > 0 ? payloads.on : payloads.off;
  return JSON.stringify({
    format: FORMAT,
    beacon: envelope.person,
    state: raised.length > 0 ? "raised" : "clear",
    raised: raised.map(recordOf),
    number: envelope.sequence,
    writtenAt: new Date(envelope.writtenAt).toISOString(),
  });
}

function recordOf({ sinceAt, ...raised }: RaisedMatter): object {
  return { ...raised, since: new Date(sinceAt).toISOString() };
}
