import type { Envelope } from "./channel.ts";

/** Name of the format; docs/topics.md says what the fields mean. */
const FORMAT = "earthbell.message/1";

/** A message as machines are handed it. */
export function messageRecord(envelope: Envelope): Readonly<Record<string, unknown>> {
  const { key, kind, site, matter, person, sequence, subject, text, acknowledgeUrl, writtenAt } = envelope;
  return {
    format: FORMAT,
    key,
    kind,
    site,
    matter,
    person,
    sequence,
    subject,
    text,
    ...(acknowledgeUrl === undefined ? {} : { acknowledgeUrl }),
    writtenAt: new Date(writtenAt).toISOString(),
  };
}
