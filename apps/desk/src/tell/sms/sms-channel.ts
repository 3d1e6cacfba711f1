import { createHash } from "node:crypto";
import type { Clock } from "../../clock.ts";
import type { Channel, Envelope, SendOutcome } from "../channel.ts";
import type { Hear } from "../conversation.ts";
import type { Question, Reply } from "../http/ask.ts";
import { askAloud } from "../http/ask-aloud.ts";
import { outcomeOfNoAnswer, outcomeOfStatus } from "../http/outcome-of-status.ts";
import { outward, type OutwardOptions } from "../http/outward.ts";
import { within } from "../within.ts";
import { oneLine } from "../words/one-line.ts";
import {
  fill,
  fillJson,
  type Filling,
  hasPlaceholder,
  type JsonTemplate,
  unknownPlaceholders,
} from "./fill.ts";

/** The body of the request: its texts may hold {to}, {text} and {key}. */
export type SmsBody =
  | { readonly as: "json"; readonly value: JsonTemplate }
  | { readonly as: "form"; readonly fields: Readonly<Record<string, string>> }
  | { readonly as: "none" };

/** How a text message is handed to the gateway that somebody has a contract with. */
export interface SmsOptions extends OutwardOptions {
  readonly method: "POST" | "PUT" | "GET";
  /** May hold {to}, {text} and {key} in its path and query. */
  readonly url: string;
  /** Sent as they are, secrets included; nothing is filled in. */
  readonly headers?: Readonly<Record<string, string>>;
  readonly body: SmsBody;
  /** Where a status of 2xx is not enough: text that the reply has to hold, and text by which it refuses the number. */
  readonly reply?: { readonly holds?: string; readonly refusesWith?: string };
  /** Certificates (PEM) to trust instead of the system's. */
  readonly ca?: string;
  /** Time for one attempt [ms]; absent: 20 s. */
  readonly attemptMs?: number;
}

const NUMBER = /^\+?[0-9]{3,20}$/u;

/** Text messages by the HTTP interface of a gateway. @throws RangeError naming what is wrong with the template */
export function smsChannel(options: SmsOptions, clock: Clock): Channel {
  checkTemplate(options);
  const destination = outward(options);
  const { attemptMs = 20_000 } = options;
  return {
    kind: "sms",
    async send(envelope: Envelope, signal: AbortSignal, hear?: Hear): Promise<SendOutcome> {
      const to = envelope.address.replace(/[\s().-]/gu, "");
      if (!NUMBER.test(to))
        return { outcome: "refused", reason: `${oneLine(envelope.address)} is no phone number.` };
      const key = createHash("sha256").update(envelope.key).digest("hex").slice(0, 32);
      const filling = { to, text: envelope.text, key };
      try {
        const reply = await within(clock, attemptMs, signal, async (given) =>
          askAloud(
            await destination(fill(options.url, filling, encodeURIComponent)),
            questionOf(options, filling),
            given,
            hear,
          ),
        );
        return outcomeOfReply(reply, options);
      } catch (error) {
        // Not even an address that cannot be used is the fault of the number.
        return { outcome: "later", reason: outcomeOfNoAnswer(error).reason };
      }
    },
    close: () => Promise.resolve(),
  };
}

function checkTemplate({ url, headers = {}, body }: SmsOptions): void {
  const texts = [url, bodyText(body)];
  const unknown = texts.flatMap(unknownPlaceholders);
  if (unknown.length > 0)
    throw new RangeError(`Nothing fills {${unknown.join("}, {")}}: there are {to}, {text} and {key}.`);
  for (const name of ["to", "text"] as const)
    if (!texts.some((text) => hasPlaceholder(text, name)))
      throw new RangeError(`The template has no {${name}}.`);
  const bad = Object.entries(headers).find(
    ([name, value]) => !/^[\w-]+$/u.test(name) || /[^\t\x20-\x7e]/u.test(value),
  );
  if (bad !== undefined) throw new RangeError(`Header ${JSON.stringify(bad[0])} is not plain text.`);
  const host = /^[a-z]+:\/\/([^/?#]*)/iu.exec(url)?.[1];
  if (host === undefined || host.includes("{"))
    throw new RangeError("The host of the address has to be fixed.");
}

function bodyText(body: SmsBody): string {
  switch (body.as) {
    case "json":
      return JSON.stringify(body.value);
    case "form":
      return Object.values(body.fields).join("\n");
    case "none":
      return "";
  }
}

function questionOf({ method, headers = {}, body, ca }: SmsOptions, filling: Filling): Question {
  const trust = ca === undefined ? {} : { ca };
  switch (body.as) {
    case "json": {
      const type = { "content-type": "application/json" };
      return {
        method,
        headers: { ...type, ...headers },
        body: JSON.stringify(fillJson(body.value, filling)),
        ...trust,
      };
    }
    case "form": {
      const fields = Object.entries(body.fields).map(([name, value]): [string, string] => [
        name,
        fill(value, filling),
      ]);
      const type = { "content-type": "application/x-www-form-urlencoded" };
      return {
        method,
        headers: { ...type, ...headers },
        body: new URLSearchParams(fields).toString(),
        ...trust,
      };
    }
    case "none":
      return { method, headers, body: "", ...trust };
  }
}

/** Gateways that answer 200 to everything say in the body what they did. */
function outcomeOfReply({ status, body }: Reply, { reply = {} }: SmsOptions): SendOutcome {
  const said = oneLine(body, 120);
  if (reply.refusesWith !== undefined && body.includes(reply.refusesWith))
    return { outcome: "refused", reason: `The gateway refuses the number: ${said}` };
  const outcome = outcomeOfStatus(status);
  // The address is the gateway's: of the refusals only these two are about what was sent to it.
  if (outcome.outcome === "refused" && status !== 400 && status !== 422)
    return {
      outcome: "later",
      reason: `The gateway refuses the desk, not the number (status ${status}); correct the settings.`,
    };
  if (outcome.outcome !== "accepted" || reply.holds === undefined || body.includes(reply.holds))
    return outcome;
  return { outcome: "later", reason: `The reply of the gateway does not hold what it should: ${said}` };
}
