import type { MqttClient } from "mqtt";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { machineClock } from "../../apps/desk/src/clock.ts";
import type { Channel, Envelope, SendOutcome } from "../../apps/desk/src/tell/channel.ts";
import { mqttChannel } from "../../apps/desk/src/tell/mqtt/mqtt-channel.ts";
import { type Broker, DESK, startBroker } from "./broker.ts";
import { guest, quiet } from "./desk.ts";

const ADDRESS = "site/tarn/beacon";

function envelope(change: Partial<Envelope> = {}): Envelope {
  return {
    key: "k1",
    channel: "mqtt",
    address: ADDRESS,
    person: "beacon",
    site: "tarn",
    matter: "C1",
    kind: "first",
    sequence: 1,
    subject: "Alarm: Tarn Mill ⚡",
    text: "Do not touch the roof.",
    writtenAt: Date.UTC(2026, 5, 1, 5, 12),
    ...change,
  };
}

interface Seen {
  readonly topic: string;
  readonly retain: boolean;
  readonly record: Readonly<Record<string, unknown>>;
}

let broker: Broker;
let channel: Channel;
const guests: MqttClient[] = [];
const until = (what: () => void | Promise<void>) => vi.waitFor(what, { timeout: 20_000, interval: 20 });

beforeEach(async () => {
  broker = await startBroker();
  channel = mqttChannel(
    { broker: { url: broker.url, login: DESK }, clientId: "desk", attemptMs: 5000 },
    machineClock,
    quiet,
  );
});
afterEach(async () => {
  await channel.close();
  for (const one of guests.splice(0)) await one.endAsync(true);
  await broker.remove();
});

async function beacon(filter: string): Promise<Seen[]> {
  const seen: Seen[] = [];
  const client = await guest(broker, { username: DESK.user, password: DESK.password });
  guests.push(client);
  client.on("message", (topic, payload, { retain }) => {
    seen.push({ topic, retain, record: JSON.parse(payload.toString()) as Seen["record"] });
  });
  await client.subscribeAsync(filter, { qos: 1 });
  return seen;
}

const send = (change: Partial<Envelope> = {}): Promise<SendOutcome> =>
  channel.send(envelope(change), new AbortController().signal);

describe("a message to a beacon", () => {
  it("comes as an event, and as a state that a beacon finds when it comes back", async () => {
    const listening = await beacon(`${ADDRESS}/#`);
    await until(async () => {
      expect((await send()).outcome).toBe("accepted");
    });
    await until(() => {
      expect(listening.map(({ topic }) => topic).sort()).toEqual([
        `${ADDRESS}/messages`,
        `${ADDRESS}/state/C1`,
      ]);
    });
    expect(listening.find(({ topic }) => topic.endsWith("messages"))!.record).toMatchObject({
      format: "earthbell.message/1",
      key: "k1",
      text: "Do not touch the roof.",
    });
    const late = await beacon(`${ADDRESS}/#`);
    await until(() => {
      expect(late).toMatchObject([
        { topic: `${ADDRESS}/state/C1`, retain: true, record: { state: "raised" } },
      ]);
    });
  });

  it("that clears one matter leaves another raised, and an older one tried again raises nothing", async () => {
    await beacon(`${ADDRESS}/#`);
    await until(async () => {
      expect((await send()).outcome).toBe("accepted");
    });
    await send({ matter: "C2", key: "k2" });
    const later = envelope().writtenAt + 60_000;
    await send({ kind: "cleared", key: "k3", writtenAt: later });
    await send({ kind: "repeat", key: "k4" });
    const late = await beacon(`${ADDRESS}/state/+`);
    await until(() => {
      expect(late.map(({ topic, record }) => [topic, record["state"]]).sort()).toEqual([
        [`${ADDRESS}/state/C1`, "clear"],
        [`${ADDRESS}/state/C2`, "raised"],
      ]);
    });
  });

  it("a drill is an event and no state", async () => {
    const listening = await beacon(`${ADDRESS}/#`);
    await until(async () => {
      expect((await send({ kind: "drill" })).outcome).toBe("accepted");
    });
    await until(() => {
      expect(listening.map(({ topic }) => topic)).toEqual([`${ADDRESS}/messages`]);
    });
  });

  it("that nobody is subscribed to was not handed over", async () => {
    await until(async () => {
      expect(await send()).toMatchObject({
        outcome: "later",
        reason: expect.stringContaining("Nobody is subscribed") as string,
      });
    });
  });

  it.each(["site/#", "$SYS/x", ""])("to %j is refused", async (address) => {
    expect(await send({ address })).toMatchObject({ outcome: "refused" });
  });

  it("is tried later while the broker is away, and taken when it is back", async () => {
    await beacon(`${ADDRESS}/#`);
    await until(async () => {
      expect((await send()).outcome).toBe("accepted");
    });
    await broker.stop();
    await until(async () => {
      expect(await send()).toMatchObject({ outcome: "later" });
    });
    await broker.start();
    await until(async () => {
      expect((await send()).outcome).toBe("accepted");
    });
  });
});
