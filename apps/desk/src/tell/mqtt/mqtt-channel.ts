import { connect } from "mqtt";
import type { Clock } from "../../clock.ts";
import type { Log } from "../../log.ts";
import { type BrokerOptions, connectionOptions } from "../../mqtt/broker.ts";
import { isPlainTopic } from "../../mqtt/plain-topic.ts";
import type { Channel, Envelope, SendOutcome } from "../channel.ts";
import { messageRecord } from "../message-record.ts";
import { GaveUp, within } from "../within.ts";
import { oneLine } from "../words/one-line.ts";
import { beaconRecord, eventTopic, stateTopic } from "./beacon.ts";
import { LatestOfMatters } from "./latest-of-matters.ts";
import { Publisher } from "./publisher.ts";

export interface MqttChannelOptions {
  readonly broker: BrokerOptions;
  readonly clientId: string;
  /** Time for one attempt [ms]; absent: 20 s. */
  readonly attemptMs?: number;
}

/** Reason codes of MQTT 5 (4.13 and 3.4.2.1): taken, but nobody is subscribed; from 128 on it was not taken. */
const NO_SUBSCRIBER = 16;
const NOT_TAKEN = 128;
/** Topic name invalid, and not authorized: this address will not do. */
const OF_THE_ADDRESS: readonly number[] = [144, 135];
/** A state that is clear is forgotten by the broker after this long [s]. */
const CLEAR_KEPT_S = 30 * 86_400;

/**
 * Messages to machines at the site by MQTT 5, QoS 1: the message once, and beside it, retained, whether the matter is still
 * there, so that a beacon that was off learns of it when it comes back.
 *
 * @throws RangeError for options that cannot be used
 */
export function mqttChannel(options: MqttChannelOptions, clock: Clock, log: Log): Channel {
  const { broker, clientId, attemptMs = 20_000 } = options;
  const client = connect(broker.url, { ...connectionOptions(broker), clientId, clean: true });
  let said: string | null = null;
  client.on("connect", () => {
    said = null;
  });
  client.on("error", ({ message }) => {
    if (message !== said) log.warn({ channel: "mqtt", error: message }, "The broker cannot be reached.");
    said = message;
  });
  const latest = new LatestOfMatters();
  const publisher = new Publisher(client);
  return {
    kind: "mqtt",
    async send(envelope: Envelope, signal: AbortSignal): Promise<SendOutcome> {
      if (!isPlainTopic(envelope.address))
        return { outcome: "refused", reason: `${oneLine(envelope.address)} is no topic to send to.` };
      // Queued by the library, a message could overtake a newer one after the connection is back.
      if (!client.connected) return { outcome: "later", reason: "The broker is not connected." };
      try {
        const codes = await within(clock, attemptMs, signal, () => publish(publisher, envelope, latest));
        return outcomeOfCodes(codes);
      } catch (error) {
        return {
          outcome: "later",
          reason: error instanceof GaveUp ? error.message : `Not taken: ${oneLine(String(error))}`,
        };
      }
    },
    async close() {
      await client.endAsync(true);
    },
  };
}

async function publish(
  publisher: Publisher,
  envelope: Envelope,
  latest: LatestOfMatters,
): Promise<readonly number[]> {
  const { address, kind, writtenAt } = envelope;
  const codes: Promise<number>[] = [];
  const state = stateTopic(envelope);
  // A drill is no state of the site: a beacon that shows one takes it from the event.
  if (kind !== "drill" && latest.take(state, writtenAt)) {
    const properties = kind === "cleared" ? { messageExpiryInterval: CLEAR_KEPT_S } : {};
    codes.push(
      publisher.publish(state, JSON.stringify(beaconRecord(envelope)), { retain: true, properties }),
    );
  }
  codes.push(publisher.publish(eventTopic(address), JSON.stringify(messageRecord(envelope))));
  return Promise.all(codes);
}

function outcomeOfCodes(codes: readonly number[]): SendOutcome {
  const worst = Math.max(...codes);
  if (worst >= NOT_TAKEN)
    return OF_THE_ADDRESS.includes(worst)
      ? {
          outcome: "refused",
          reason: `The broker does not let the desk send to this topic (reason ${worst}).`,
        }
      : { outcome: "later", reason: `The broker did not take it (reason ${worst}).` };
  if (codes.every((code) => code === NO_SUBSCRIBER))
    return {
      outcome: "later",
      reason: "Nobody is subscribed to the topic; its state is retained for who comes.",
    };
  return { outcome: "accepted", reply: `reason ${worst}` };
}
