import { checkReading, type WatchReading } from "@earthbell/model";
import { connectAsync, type IClientOptions, type MqttClient } from "mqtt";
import { machineClock } from "../../apps/desk/src/clock.ts";
import type { Accept, Accepted, Listener } from "../../apps/desk/src/listen/accept.ts";
import { mqttListener, type MqttListenerOptions } from "../../apps/desk/src/listen/mqtt/mqtt-listener.ts";
import type { Log } from "../../apps/desk/src/log.ts";
import { type Broker, DESK, DEVICE } from "./broker.ts";

export const quiet: Log = { info: () => undefined, warn: () => undefined, error: () => undefined };

/** Everything that came through a desk's door, each time that it came. */
export interface Door {
  readonly accept: Accept;
  readonly taken: WatchReading[];
  readonly setAside: unknown[];
  /** Distinct readings, by key. */
  keys(): ReadonlySet<string>;
}

/** A door that stores in memory; `before` may hold it up, or make it fail. */
export function door(before: () => Promise<void> = () => Promise.resolve()): Door {
  const taken: WatchReading[] = [];
  const setAside: unknown[] = [];
  return {
    taken,
    setAside,
    keys: () => new Set(taken.map(({ key }) => key)),
    async accept(readings): Promise<Accepted> {
      await before();
      const refused = readings.filter((one) => !checkReading(one).ok);
      taken.push(...readings.filter((one) => !refused.includes(one)));
      setAside.push(...refused);
      return {
        taken: readings.length - refused.length,
        known: 0,
        setAside: refused.map(({ key }) => ({ key, reason: "no reading" })),
      };
    },
  };
}

export function deskAt(
  broker: Broker,
  { accept }: Door,
  change: Partial<MqttListenerOptions> = {},
): Listener {
  const options = {
    name: "mqtt",
    clientId: "desk-of-tarn",
    broker: { url: broker.url, login: DESK },
    ...change,
  };
  return mqttListener(options, { accept, clock: machineClock, log: quiet });
}

/** A device, or somebody else at the broker. */
export function guest(broker: Broker, options: IClientOptions = {}): Promise<MqttClient> {
  return connectAsync(broker.url, {
    protocolVersion: 5,
    username: DEVICE.user,
    password: DEVICE.password,
    reconnectPeriod: 200,
    ...options,
  });
}

export const READINGS = "earthbell/v1/tarn/inv1/readings";
export const LIFE = "earthbell/v1/tarn/inv1/life";

/** The n-th reading of a device, a second after the one before. */
export function payload(n: number): string {
  const at = new Date(Date.UTC(2026, 5, 1, 5, 0, n)).toISOString();
  return JSON.stringify({
    readings: [{ array: "A1", at, kind: "insulation", value: 1000 + n, unit: "ohm" }],
  });
}

export async function publishMany(client: MqttClient, from: number, to: number): Promise<void> {
  const numbers = Array.from({ length: to - from }, (_, at) => from + at);
  await Promise.all(numbers.map((n) => client.publishAsync(READINGS, payload(n), { qos: 1 })));
}
