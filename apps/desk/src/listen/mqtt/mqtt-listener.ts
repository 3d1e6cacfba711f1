import { connect, type IPublishPacket, type MqttClient } from "mqtt";
import { type BrokerOptions, connectionOptions } from "../../mqtt/broker.ts";
import { isPlainTopic } from "../../mqtt/plain-topic.ts";
import type { Listener, ListenerHealth } from "../accept.ts";
import { HandOver, type HandOverParts } from "./hand-over.ts";
import { HeardDevices } from "./heard-devices.ts";
import { topicFilters } from "./topic.ts";

export interface MqttListenerOptions {
  /** Names the way into the desk for good: keys and records carry it. */
  readonly name: string;
  readonly broker: BrokerOptions;
  /** Id of the session, the same after every restart: the broker keeps messages for it meanwhile. */
  readonly clientId: string;
  /** First levels of the topics; absent: earthbell/v1. */
  readonly prefix?: string;
  /** Members of a share each get a part of the messages. Needed for more than one connection. */
  readonly share?: string;
  /** Connections, each with a session of its own; absent: 1. */
  readonly connections?: number;
  /** How long the broker keeps messages while the desk is away [s]; absent: 7 days. */
  readonly sessionKeptS?: number;
}

/** Messages on their way from the broker that were not acknowledged; the broker holds back the rest. */
const RECEIVE_MAXIMUM = 20;
/** Longest message [bytes]; the broker keeps longer ones from the desk. */
const LONGEST_PACKET = 1_048_576;
const SEVEN_DAYS_S = 7 * 86_400;

/**
 * Hears readings by MQTT 5 (docs/topics.md). A message is acknowledged to the broker only once it is stored, so that what
 * the desk could not store comes again; what cannot be read is set aside with its reason and holds nothing up.
 *
 * @throws RangeError for options that cannot be used
 */
export function mqttListener(options: MqttListenerOptions, parts: HandOverParts): Listener {
  const { name, prefix = "earthbell/v1", share, connections = 1, clientId } = options;
  if (!isPlainTopic(prefix)) throw new RangeError(`${JSON.stringify(prefix)} is no prefix of topics.`);
  if (share !== undefined && (!isPlainTopic(share) || share.includes("/")))
    throw new RangeError(`${JSON.stringify(share)} is no name of a share.`);
  if (!Number.isInteger(connections) || connections < 1 || connections > 16)
    throw new RangeError("connections is a whole number from 1 to 16.");
  if (connections > 1 && share === undefined)
    throw new RangeError("Several connections need a share, or each would get every message.");
  const devices = new HeardDevices();
  const made = Array.from({ length: connections }, (_, n) => {
    const id = n === 0 ? clientId : `${clientId}-${n + 1}`;
    return new Connection(id, { ...options, prefix }, parts, devices);
  });
  return {
    name,
    health: () => healthOf(name, made, devices),
    async stop() {
      await Promise.all(made.map((connection) => connection.stop()));
    },
  };
}

function healthOf(name: string, connections: readonly Connection[], devices: HeardDevices): ListenerHealth {
  const problems = connections.map(problemOf).filter((problem) => problem !== null);
  const [problem] = problems;
  const hearing = connections.length - problems.length;
  const state = problems.length === 0 ? "hearing" : hearing > 0 ? "partly-deaf" : "deaf";
  const { known, gone } = devices;
  const setAside = connections.reduce((sum, { handOver }) => sum + handOver.setAside, 0);
  const text = [
    problem ?? "Hears its broker.",
    `Devices heard of: ${known}, gone by their own word: ${gone}. Readings set aside: ${setAside}.`,
  ].join(" ");
  return { name, state: state === "hearing" && gone > 0 ? "partly-deaf" : state, text, known, unheard: gone };
}

function problemOf({ problem, handOver: { failingSinceAt } }: Connection): string | null {
  if (problem !== null || failingSinceAt === null) return problem;
  return `What is heard cannot be stored since ${new Date(failingSinceAt).toISOString()}; the broker keeps it.`;
}

/** One session with the broker. */
class Connection {
  /** Why nothing is heard; null while it is. */
  problem: string | null = "Not connected to the broker yet.";
  readonly handOver: HandOver;
  private readonly client: MqttClient;
  private readonly stopping = new AbortController();
  private gone = new AbortController();

  constructor(
    private readonly id: string,
    private readonly options: MqttListenerOptions & { readonly prefix: string },
    private readonly parts: HandOverParts,
    devices: HeardDevices,
  ) {
    this.handOver = new HandOver(options, parts, devices);
    this.client = connect(options.broker.url, {
      ...connectionOptions(options.broker),
      clientId: id,
      clean: false,
      properties: {
        sessionExpiryInterval: options.sessionKeptS ?? SEVEN_DAYS_S,
        receiveMaximum: RECEIVE_MAXIMUM,
        maximumPacketSize: LONGEST_PACKET,
      },
    });
    this.client.handleMessage = (packet, done) => {
      this.take(packet, done).catch((error: unknown) => {
        parts.log.error(
          { listener: options.name, error },
          "A message could not be looked at; it will come again.",
        );
      });
    };
    this.client.on("connect", () => {
      void this.subscribe();
    });
    this.client.on("error", (error) => {
      const { code, message } = error as NodeJS.ErrnoException;
      this.fail(`The broker cannot be reached: ${message === "" ? String(code) : message}.`);
    });
    this.client.on("close", () => {
      this.gone.abort();
      this.gone = new AbortController();
      // What was said of an attempt to connect tells more.
      if (this.problem === null) this.fail("The connection to the broker is lost.");
    });
  }

  /**
   * Acknowledges by `done`, and never on another connection than the one by which the message came: there the number of the
   * message may mean another one by now.
   */
  private async take(packet: IPublishPacket, done: (error?: Error) => void): Promise<void> {
    const { signal } = this.gone;
    const payload = typeof packet.payload === "string" ? Buffer.from(packet.payload) : packet.payload;
    const arrival = { topic: packet.topic, payload, at: this.parts.clock.now() };
    const stored = await this.handOver.take(arrival, AbortSignal.any([signal, this.stopping.signal]));
    if (stored && !signal.aborted) done();
  }

  private async subscribe(): Promise<void> {
    const filters = topicFilters(this.options.prefix, this.options.share);
    try {
      // rh 1: what the broker retains comes when the subscription is new, not at every connection.
      const granted = await this.client.subscribeAsync([...filters], { qos: 1, rh: 1 });
      const refused = granted.filter(({ qos }) => qos >= 128).map(({ topic }) => topic);
      if (refused.length > 0) {
        this.fail(`The broker refuses the subscription to ${refused.join(" and ")}.`);
        return;
      }
      this.problem = null;
      this.parts.log.info({ listener: this.options.name, clientId: this.id }, "Listening to the broker.");
    } catch (error) {
      this.fail(`The broker refuses the subscription: ${(error as Error).message}.`);
    }
  }

  private fail(problem: string): void {
    if (this.stopping.signal.aborted) return;
    if (this.problem === null)
      this.parts.log.warn({ listener: this.options.name, clientId: this.id }, problem);
    this.problem = problem;
  }

  async stop(): Promise<void> {
    this.stopping.abort();
    // By force: a message that waits for the store holds the stream, and the session outlives the connection anyway.
    await this.client.endAsync(true);
  }
}
