import { connect, type MqttClient } from "mqtt";
import type { Clock } from "../../clock.ts";
import type { Log } from "../../log.ts";
import { type BrokerOptions, connectionOptions } from "../../mqtt/broker.ts";
import { isPlainTopic } from "../../mqtt/plain-topic.ts";
import type { Channel, Envelope, SendOutcome } from "../channel.ts";
import type { Hear } from "../conversation.ts";
import { GaveUp, within } from "../within.ts";
import { oneLine } from "../words/one-line.ts";
import { beaconPayload, type Payloads } from "./beacon.ts";
import { hearPackets } from "./hear-packets.ts";
import { Publisher } from "./publisher.ts";

/** A beacon and how it is reached. */
export interface BeaconPlace {
  readonly id: string;
  readonly topic: string;
  readonly payloads?: Payloads;
  /** Id of its broker. */
  readonly broker: string;
}

/** A broker, with the desk's own name there. */
export interface BeaconBroker {
  readonly id: string;
  readonly broker: BrokerOptions;
  readonly clientId: string;
}

export interface BeaconChannelOptions {
  readonly brokers: readonly BeaconBroker[];
  readonly beacons: readonly BeaconPlace[];
  /** Time for one attempt [ms]; absent: 20 s. */
  readonly attemptMs?: number;
}

/** Reason codes of MQTT 5 (4.13 and 3.4.2.1): taken, but nobody is subscribed; from 128 on it was not taken. */
const NO_SUBSCRIBER = 16;
const NOT_TAKEN = 128;
/** Topic name invalid, and not authorized: this topic will not do. */
const OF_THE_TOPIC: readonly number[] = [144, 135];

/**
 * Beacons by MQTT 5: one retained message of QoS 1 at the topic of each, so that a beacon that was off learns of the fault
 * when it comes back.
 *
 * @throws RangeError for options that cannot be used
 */
export function beaconChannel(options: BeaconChannelOptions, clock: Clock, log: Log): Channel {
  const { brokers, beacons, attemptMs = 20_000 } = options;
  const used = brokers.filter(({ id }) => beacons.some(({ broker }) => broker === id));
  const links = new Map(used.map((one) => [one.id, new Link(one, log)]));
  const newest = new Map<string, number>();
  return {
    kind: "mqtt",
    async send(envelope: Envelope, signal: AbortSignal, hear?: Hear): Promise<SendOutcome> {
      const beacon = beacons.find(({ id }) => id === envelope.person);
      const link = beacon && links.get(beacon.broker);
      if (beacon === undefined || link === undefined)
        return { outcome: "refused", reason: `The settings name no beacon ${oneLine(envelope.person)}.` };
      if (!isPlainTopic(beacon.topic))
        return { outcome: "refused", reason: `${oneLine(beacon.topic)} is no topic to send to.` };
      const payload = beaconPayload(envelope, beacon.payloads);
      const attempt = async (): Promise<number> => {
        if (hear !== undefined) return link.publishAloud(beacon.topic, payload, hear);
        newest.set(beacon.id, envelope.sequence);
        return link.publish(beacon.topic, payload);
      };
      if (hear === undefined && envelope.sequence < (newest.get(beacon.id) ?? -Infinity))
        return { outcome: "accepted", reply: "outdated: a newer state was handed over before" };
      // Queued by the library, a message could overtake a newer one after the connection is back.
      if (hear === undefined && !link.connected)
        return { outcome: "later", reason: "The broker is not connected." };
      try {
        return outcomeOf(await within(clock, attemptMs, signal, attempt));
      } catch (error) {
        const reason = error instanceof GaveUp ? error.message : `Not taken: ${oneLine(String(error))}`;
        return { outcome: "later", reason };
      }
    },
    async close() {
      await Promise.all([...links.values()].map((link) => link.close()));
    },
  };
}

function outcomeOf(code: number): SendOutcome {
  if (OF_THE_TOPIC.includes(code))
    return {
      outcome: "refused",
      reason: `The broker does not let the desk send to this topic (reason ${code}).`,
    };
  if (code >= NOT_TAKEN) return { outcome: "later", reason: `The broker did not take it (reason ${code}).` };
  if (code === NO_SUBSCRIBER)
    return {
      outcome: "later",
      reason: "Nobody is subscribed to the topic; its state is retained for who comes.",
    };
  return { outcome: "accepted", reply: `reason ${code}` };
}

/** The desk's connection to one broker for telling. */
class Link {
  readonly #client: MqttClient;
  readonly #publisher: Publisher;

  constructor(
    private readonly at: BeaconBroker,
    log: Log,
  ) {
    const { broker, clientId, id } = at;
    this.#client = connect(broker.url, { ...connectionOptions(broker), clientId, clean: true });
    this.#publisher = new Publisher(this.#client);
    let said: string | null = null;
    this.#client.on("connect", () => {
      said = null;
    });
    this.#client.on("error", ({ message }) => {
      if (message !== said)
        log.warn({ channel: "mqtt", broker: id, error: message }, "The broker cannot be reached.");
      said = message;
    });
  }

  get connected(): boolean {
    return this.#client.connected;
  }

  publish(topic: string, payload: string): Promise<number> {
    return this.#publisher.publish(topic, payload, { retain: true });
  }

  /** Over a connection of its own, so that all of the conversation is heard. */
  async publishAloud(topic: string, payload: string, hear: Hear): Promise<number> {
    const { broker, clientId } = this.at;
    const client = connect(broker.url, {
      ...connectionOptions(broker),
      clientId: `${clientId}-test`,
      clean: true,
      reconnectPeriod: 0,
      manualConnect: true,
    });
    hear({ by: "note", text: `Connecting to ${new URL(broker.url).host}.` });
    hearPackets(client, hear);
    try {
      await connected(client);
      return await new Publisher(client).publish(topic, payload, { retain: true });
    } finally {
      await client.endAsync();
    }
  }

  async close(): Promise<void> {
    await this.#client.endAsync(true);
  }
}

function connected(client: MqttClient): Promise<void> {
  return new Promise((resolve, reject) => {
    client.once("connect", () => {
      resolve();
    });
    client.once("error", reject);
    client.once("close", () => {
      reject(new Error("The connection was closed."));
    });
    client.connect();
  });
}
