import type { RaisedMatter } from "@earthbell/model";
import type { MqttClient } from "mqtt";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { machineClock } from "../../apps/desk/src/clock.ts";
import type { Channel, Envelope, SendOutcome } from "../../apps/desk/src/tell/channel.ts";
import type { Said } from "../../apps/desk/src/tell/conversation.ts";
import { beaconChannel } from "../../apps/desk/src/tell/mqtt/beacon-channel.ts";
import { type Broker, DESK, DEVICE, startBroker } from "./broker.ts";
import { guest, quiet } from "./desk.ts";

const WRITTEN = Date.UTC(2026, 5, 1, 5, 12);
const FAULT: RaisedMatter = {
  site: "tarn",
  matter: "C1",
  text: "array A1: residual-current trip",
  sinceAt: WRITTEN,
};

/** The n-th message to a beacon. */
function envelope(sequence: number, raised: readonly RaisedMatter[], person = "lamp"): Envelope {
  return {
    key: `k${sequence}`,
    channel: "mqtt",
    address: "as the settings say",
    person,
    site: "tarn",
    matter: "C1",
    kind: raised.length > 0 ? "first" : "cleared",
    sequence,
    subject: "Beacon",
    text: "",
    raised,
    writtenAt: WRITTEN + sequence,
  };
}

let broker: Broker;
let channel: Channel;
const guests: MqttClient[] = [];
const until = (what: () => void | Promise<void>) => vi.waitFor(what, { timeout: 20_000, interval: 20 });

function channelAt(password = DESK.password): Channel {
  return beaconChannel(
    {
      brokers: [
        { id: "hall", broker: { url: broker.url, login: { user: DESK.user, password } }, clientId: "desk" },
      ],
      beacons: [
        { id: "lamp", broker: "hall", topic: "site/tarn/lamp", payloads: { on: "1", off: "0" } },
        { id: "screen", broker: "hall", topic: "site/tarn/screen" },
        { id: "astray", broker: "hall", topic: "site/#" },
      ],
      attemptMs: 5000,
    },
    machineClock,
    quiet,
  );
}

beforeEach(async () => {
  broker = await startBroker();
  channel = channelAt();
});
afterEach(async () => {
  await channel.close();
  for (const one of guests.splice(0)) await one.endAsync(true);
  await broker.remove();
});

/** Everything that somebody hears who subscribes now: topic, payload, and r where it was retained. */
async function heardAt(filter: string): Promise<string[]> {
  const heard: string[] = [];
  const client = await guest(broker, { username: DEVICE.user, password: DEVICE.password });
  guests.push(client);
  client.on("message", (topic, payload, { retain }) => {
    heard.push(`${topic} ${payload.toString()}${retain ? " r" : ""}`);
  });
  await client.subscribeAsync(filter, { qos: 1 });
  return heard;
}

const send = (one: Envelope, hear?: (said: Said) => void): Promise<SendOutcome> =>
  channel.send(one, new AbortController().signal, hear);
const accepted = (one: Envelope) =>
  until(async () => {
    expect((await send(one)).outcome).toBe("accepted");
  });

describe("a beacon", () => {
  it("gets its payload, and finds it when it comes back", async () => {
    const lamp = await heardAt("site/tarn/lamp");
    await accepted(envelope(1, [FAULT]));
    await until(() => {
      expect(lamp).toEqual(["site/tarn/lamp 1"]);
    });
    const late = await heardAt("site/tarn/lamp");
    await until(() => {
      expect(late).toEqual(["site/tarn/lamp 1 r"]);
    });
    await accepted(envelope(2, []));
    await until(() => {
      expect([lamp.at(-1), late.at(-1)]).toEqual(["site/tarn/lamp 0", "site/tarn/lamp 0"]);
    });
  });

  it("without payloads of its own gets a record of everything that is raised", async () => {
    const screen = await heardAt("site/tarn/screen");
    await accepted(envelope(1, [FAULT], "screen"));
    await until(() => {
      expect(screen).toHaveLength(1);
    });
    expect(JSON.parse(screen[0]!.slice("site/tarn/screen ".length))).toMatchObject({
      format: "earthbell.beacon/1",
      state: "raised",
      raised: [{ site: "tarn", matter: "C1" }],
    });
  });

  it("is not lit again by an older message that is tried once more", async () => {
    const lamp = await heardAt("site/tarn/lamp");
    await accepted(envelope(2, []));
    expect(await send(envelope(1, [FAULT]))).toMatchObject({
      outcome: "accepted",
      reply: expect.stringContaining("outdated") as string,
    });
    await accepted(envelope(3, []));
    await until(() => {
      expect(lamp).toEqual(["site/tarn/lamp 0", "site/tarn/lamp 0"]);
    });
  });

  it("that nobody is at was not reached, and its state waits for who comes", async () => {
    await until(async () => {
      expect(await send(envelope(1, [FAULT]))).toMatchObject({
        outcome: "later",
        reason: expect.stringContaining("Nobody is subscribed") as string,
      });
    });
    const late = await heardAt("site/tarn/lamp");
    await until(() => {
      expect(late).toEqual(["site/tarn/lamp 1 r"]);
    });
  });

  it.each(["astray", "nobody"])("called %s is refused", async (person) => {
    expect(await send(envelope(1, [FAULT], person))).toMatchObject({ outcome: "refused" });
  });

  it("is tried later while the broker is away, and reached when it is back", async () => {
    await heardAt("site/tarn/#");
    await accepted(envelope(1, [FAULT]));
    await broker.stop();
    await until(async () => {
      expect(await send(envelope(2, []))).toMatchObject({ outcome: "later" });
    });
    await broker.start();
    await accepted(envelope(2, []));
  });
});

describe("the conversation of a test", () => {
  it("is told packet by packet, with the broker's reason and without the password", async () => {
    await heardAt("site/tarn/lamp");
    const said: Said[] = [];
    const outcome = await send(envelope(1, [FAULT]), (one) => said.push(one));
    expect(outcome.outcome).toBe("accepted");
    const words = said.map(({ by, text }) => `${by}: ${text}`);
    expect(words.slice(1, 5)).toEqual([
      `desk: CONNECT, client desk-test, user ${DESK.user}, password (sent, not shown)`,
      "other-side: CONNACK, reason 0",
      "desk: PUBLISH, topic site/tarn/lamp, QoS 1, retained, payload 1",
      "other-side: PUBACK, reason 0",
    ]);
    expect(words.join("\n")).not.toContain(DESK.password);
  });

  it("says that the broker does not let the desk in", async () => {
    const wrong = channelAt("wrong word 17");
    const said: Said[] = [];
    const outcome = await wrong.send(envelope(1, []), new AbortController().signal, (one) => said.push(one));
    await wrong.close();
    expect(outcome).toMatchObject({ outcome: "later" });
    expect(said.map(({ text }) => text)).toContain("CONNACK, reason 135");
    expect(JSON.stringify([said, outcome])).not.toContain("wrong word 17");
  });
});
