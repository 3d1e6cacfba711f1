import type { MqttClient } from "mqtt";
import { afterEach, describe, expect, it, vi } from "vitest";
import type { Listener } from "../../apps/desk/src/listen/accept.ts";
import { selfMadeCertificate } from "../mail-peer/mail-server.ts";
import { type Broker, type BrokerChange, DESK, startBroker } from "./broker.ts";
import { deskAt, door, guest, LIFE, payload, publishMany, READINGS } from "./desk.ts";

const open: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const close of open.splice(0).reverse()) await close();
});

async function broker(change?: BrokerChange): Promise<Broker> {
  const started = await startBroker(change);
  open.push(() => started.remove());
  return started;
}
function running(listener: Listener): Listener {
  open.push(() => listener.stop());
  return listener;
}
async function device(...args: Parameters<typeof guest>): Promise<MqttClient> {
  const client = await guest(...args);
  open.push(() => client.endAsync(true));
  return client;
}
const until = (what: () => void) => vi.waitFor(what, { timeout: 30_000, interval: 20 });
const hearing = (listener: Listener) =>
  until(() => {
    expect(listener.health().state).toBe("hearing");
  });

/** Queues that hold a night of readings; the broker's own limit is shown below. */
const ROOM = { lines: ["max_queued_messages 100000"] };

describe("readings", () => {
  it("of a device come in, with what was retained before the desk first subscribed", async () => {
    const at = await broker();
    const inverter = await device(at);
    await inverter.publishAsync(READINGS, payload(0), { qos: 1, retain: true });
    const desk = door();
    await hearing(running(deskAt(at, desk)));
    await publishMany(inverter, 1, 4);
    await until(() => {
      expect(desk.taken.map(({ value }) => value)).toEqual([1000, 1001, 1002, 1003]);
    });
    expect(desk.taken[0]).toMatchObject({ site: "tarn", device: "inv1", array: "A1", source: "mqtt" });
  });

  it("that cannot be read are set aside and hold nothing up", async () => {
    const at = await broker();
    const desk = door();
    const listener = running(deskAt(at, desk));
    await hearing(listener);
    const inverter = await device(at);
    const bad = ["{", "[]", "\u0000\u0001", '{"readings":[17]}', '{"readings":[]}', "x".repeat(100_000)];
    for (const [n, text] of bad.entries()) {
      await inverter.publishAsync(READINGS, text, { qos: 1 });
      await inverter.publishAsync(READINGS, payload(n), { qos: 1 });
    }
    await until(() => {
      expect(desk.taken).toHaveLength(bad.length);
    });
    expect(desk.setAside).toHaveLength(bad.length);
    expect(listener.health()).toMatchObject({ state: "hearing", known: 1 });
  });

  it("that could not be stored are tried again, in their order, and none is lost", async () => {
    const at = await broker();
    let failures = 2;
    const desk = door(() => (failures-- > 0 ? Promise.reject(new Error("disk full")) : Promise.resolve()));
    const listener = running(deskAt(at, desk));
    await hearing(listener);
    await publishMany(await device(at), 0, 50);
    await until(() => {
      expect(listener.health()).toMatchObject({
        state: "deaf",
        text: expect.stringContaining("cannot be stored") as string,
      });
    });
    await until(() => {
      expect(desk.taken.map(({ value }) => value)).toEqual(Array.from({ length: 50 }, (_, n) => 1000 + n));
    });
    expect(listener.health().state).toBe("hearing");
  });

  it("are acknowledged only once they are stored: a desk that stops before hears them again", async () => {
    const at = await broker();
    const never = door(() => new Promise(() => undefined));
    const first = deskAt(at, never);
    await hearing(first);
    await publishMany(await device(at), 0, 30);
    await first.stop();
    expect(never.taken).toEqual([]);
    const desk = door();
    running(deskAt(at, desk));
    await until(() => {
      expect(desk.keys().size).toBe(30);
    });
  });

  it("all come in across a restart of the broker", async () => {
    const at = await broker(ROOM);
    const desk = door();
    const listener = running(deskAt(at, desk));
    await hearing(listener);
    const inverter = await device(at, {
      clean: false,
      clientId: "inv1",
      properties: { sessionExpiryInterval: 3600 },
    });
    inverter.on("error", () => undefined);
    const first = publishMany(inverter, 0, 300);
    await until(() => {
      expect(desk.taken.length).toBeGreaterThan(20);
    });
    await at.stop();
    const second = publishMany(inverter, 300, 400);
    await until(() => {
      expect(listener.health().state).toBe("deaf");
    });
    await at.start();
    await Promise.all([first, second]);
    await until(() => {
      expect(desk.keys().size).toBe(400);
    });
    await hearing(listener);
  });
});

describe("messages for a desk that is away", () => {
  const missed = async (change: BrokerChange): Promise<number> => {
    const at = await broker(change);
    const before = deskAt(at, door());
    await hearing(before);
    await before.stop();
    await publishMany(await device(at), 0, 1500);
    const desk = door();
    running(deskAt(at, desk));
    await until(() => {
      expect(desk.keys().size).toBeGreaterThanOrEqual(1000);
    });
    // Whatever is queued comes before what is published now.
    await (await device(at)).publishAsync(READINGS, payload(1500), { qos: 1 });
    await until(() => {
      expect(desk.taken.some(({ value }) => value === 2500)).toBe(true);
    });
    return 1501 - desk.keys().size;
  };

  it("are all kept where max_queued_messages is large enough", async () => {
    expect(await missed(ROOM)).toBe(0);
  });

  it("are dropped in silence beyond the broker's own limit, which is why docs/topics.md has it raised", async () => {
    expect(await missed({})).toBeGreaterThan(0);
  });
});

describe("a share", () => {
  it("gives each message to one of two desks, and loses none", async () => {
    const at = await broker(ROOM);
    const [one, other] = [door(), door()];
    await hearing(running(deskAt(at, one, { clientId: "one", share: "desks" })));
    await hearing(running(deskAt(at, other, { clientId: "other", share: "desks" })));
    await publishMany(await device(at), 0, 200);
    await until(() => {
      expect(one.taken.length + other.taken.length).toBe(200);
    });
    expect(new Set([...one.keys(), ...other.keys()]).size).toBe(200);
    expect(Math.min(one.taken.length, other.taken.length)).toBeGreaterThan(0);
  });

  it("of two connections of one desk loses none either", async () => {
    const at = await broker(ROOM);
    const desk = door();
    await hearing(running(deskAt(at, desk, { connections: 2, share: "desks" })));
    await publishMany(await device(at), 0, 200);
    await until(() => {
      expect(desk.keys().size).toBe(200);
    });
    expect(desk.taken).toHaveLength(200);
  });
});

describe("life", () => {
  it("the last will of a device that is cut off is on record as silence, and its return as life", async () => {
    const at = await broker();
    const desk = door();
    const listener = running(deskAt(at, desk));
    await hearing(listener);
    const will = {
      topic: LIFE,
      payload: Buffer.from('{"alive":false,"session":"s1"}'),
      qos: 1 as const,
      retain: true,
    };
    const inverter = await device(at, { will, reconnectPeriod: 0 });
    const alive = { alive: true, at: "2026-06-01T05:00:00Z", session: "s1" };
    await inverter.publishAsync(LIFE, JSON.stringify(alive), { qos: 1, retain: true });
    await until(() => {
      expect(desk.taken).toMatchObject([{ kind: "heartbeat", value: true, quality: "good" }]);
    });
    inverter.stream.destroy();
    await until(() => {
      expect(desk.taken[1]).toMatchObject({ kind: "heartbeat", value: null, quality: "stale" });
    });
    expect(listener.health()).toMatchObject({ state: "partly-deaf", known: 1, unheard: 1 });
    const again = await device(at);
    await again.publishAsync(LIFE, JSON.stringify({ ...alive, session: "s2" }), { qos: 1, retain: true });
    await hearing(listener);
  });
});

describe("who may connect", () => {
  it("a wrong password leaves the desk deaf, and it says why", async () => {
    const at = await broker();
    const login = { ...DESK, password: "another word" };
    const listener = running(deskAt(at, door(), { broker: { url: at.url, login } }));
    await until(() => {
      expect(listener.health()).toMatchObject({
        state: "deaf",
        text: expect.stringMatching(/not authori[sz]ed/iu) as string,
      });
    });
    expect(listener.health().text).not.toContain("another word");
  });

  it("a broker whose certificate is not trusted is not spoken to; one whose is trusted is", async () => {
    const { cert, key, pem } = selfMadeCertificate();
    const at = await broker({ certificate: { cert, key } });
    const stranger = running(deskAt(at, door(), { clientId: "stranger" }));
    await until(() => {
      expect(stranger.health()).toMatchObject({
        state: "deaf",
        text: expect.stringMatching(/certificate/iu) as string,
      });
    });
    await hearing(running(deskAt(at, door(), { broker: { url: at.url, login: DESK, ca: pem } })));
  });
});
