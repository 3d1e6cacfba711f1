import type { Envelope } from "../channel.ts";

/** Name of the format; docs/topics.md says what the fields mean. */
const FORMAT = "earthbell.beacon/1";

export function eventTopic(address: string): string {
  return `${address}/messages`;
}

/** One state for each matter, so that the end of one does not hide another: something is there while any says so. */
export function stateTopic({ address, matter }: Pick<Envelope, "address" | "matter">): string {
  return `${address}/state/${encodeURIComponent(matter.replace(/\p{Cs}/gu, "\ufffd"))}`;
}

/** What a beacon needs to know of a matter. */
export function beaconRecord(envelope: Envelope): Readonly<Record<string, unknown>> {
  const { site, matter, kind, subject, writtenAt } = envelope;
  return {
    format: FORMAT,
    state: kind === "cleared" ? "clear" : "raised",
    site,
    matter,
    subject,
    writtenAt: new Date(writtenAt).toISOString(),
  };
}
