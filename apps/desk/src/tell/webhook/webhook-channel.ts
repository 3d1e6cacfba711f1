import type { Clock } from "../../clock.ts";
import type { Channel, Envelope, SendOutcome } from "../channel.ts";
import type { Hear } from "../conversation.ts";
import { askAloud } from "../http/ask-aloud.ts";
import { outcomeOfNoAnswer, outcomeOfStatus } from "../http/outcome-of-status.ts";
import { outward, type OutwardOptions } from "../http/outward.ts";
import { messageRecord } from "../message-record.ts";
import { within } from "../within.ts";
import { type SigningKey, signedHeaders } from "./signature.ts";

export interface WebhookOptions extends OutwardOptions {
  /** Every key signs each message: the new one beside the old one while keys are changed. Ids are letters, digits, - and _. */
  readonly signingKeys: readonly [SigningKey, ...SigningKey[]];
  /** Certificates (PEM) to trust instead of the system's. */
  readonly ca?: string;
  /** Time for one attempt [ms]; absent: 20 s. */
  readonly attemptMs?: number;
}

/** Longest body. */
const BODY_BYTES = 1_000_000;

/** Messages to programs by HTTPS, signed. @throws RangeError for options that cannot be used */
export function webhookChannel(options: WebhookOptions, clock: Clock): Channel {
  const { signingKeys, ca, attemptMs = 20_000 } = options;
  const unsound = signingKeys.find(({ id, secret }) => !/^[\w-]{1,64}$/u.test(id) || secret.length < 16);
  if (unsound !== undefined)
    throw new RangeError(
      `Signing key ${JSON.stringify(unsound.id)}: the id is 1 to 64 letters, digits, - and _, the secret 16 characters or more.`,
    );
  const destination = outward(options);
  return {
    kind: "webhook",
    async send(envelope: Envelope, signal: AbortSignal, hear?: Hear): Promise<SendOutcome> {
      const body = JSON.stringify(messageRecord(envelope));
      if (Buffer.byteLength(body) > BODY_BYTES)
        return { outcome: "refused", reason: `The message is longer than ${BODY_BYTES} bytes.` };
      const headers = {
        ...signedHeaders(body, envelope.key, clock.now(), signingKeys),
        "content-type": "application/json",
      };
      const question = { method: "POST", headers, body, ...(ca === undefined ? {} : { ca }) } as const;
      try {
        const { status } = await within(clock, attemptMs, signal, async (given) =>
          askAloud(await destination(envelope.address), question, given, hear),
        );
        return outcomeOfStatus(status);
      } catch (error) {
        return outcomeOfNoAnswer(error);
      }
    },
    close: () => Promise.resolve(),
  };
}
