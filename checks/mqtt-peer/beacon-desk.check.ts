import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { mkdir, rm } from "node:fs/promises";
import type { MqttClient } from "mqtt";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { machineClock, serveFolder } from "../../apps/desk/src/index.ts";
import { type Broker, DESK, DEVICE, startBroker } from "./broker.ts";
import { guest, quiet } from "./desk.ts";

const until = (what: () => void) => vi.waitFor(what, { timeout: 30_000, interval: 50 });
const close: (() => Promise<unknown>)[] = [];
let broker: Broker;

beforeEach(async () => {
  broker = await startBroker({ lines: ["log_dest file /dev/null"] });
});
afterEach(async () => {
  for (const one of close.splice(0).reverse()) await one();
  await broker.remove();
});

const SETTINGS = (url: string, topic: string, drill: string) => `format: earthbell.desk/1
desk: {name: Skerry co-operative}
brokers:
  - {id: hall, url: "${url}", user: ${DESK.user}, password: {env: BROKER_WORD}}
beacons:
  - id: quay-lamp
    broker: hall
    topic: ${topic}
    payloads: {on: "ON", off: "OFF"${drill}}
    shows: [{site: creamery, paths: [P1]}]
`;

async function folderOf(topic: string, drill = ""): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), "beacon-desk-"));
  close.push(() => rm(folder, { recursive: true }));
  writeFileSync(join(folder, "desk.yaml"), SETTINGS(broker.url, topic, drill));
  await mkdir(join(folder, "sites"));
  const site = readFileSync(new URL("../../demo/sites/creamery.yaml", import.meta.url), "utf8");
  writeFileSync(join(folder, "sites", "creamery.yaml"), site);
  return folder;
}

async function deskIn(folder: string) {
  const served = await serveFolder(folder, {
    environment: { BROKER_WORD: DESK.password },
    clock: machineClock,
    log: quiet,
    random: () => 0.5,
    version: "0.0.0",
    listenAt: { port: 0 },
  });
  if (!served.ok) throw new Error(JSON.stringify(served.faults));
  let running = true;
  const stop = async (): Promise<void> => {
    if (running) await served.desk.stop();
    running = false;
  };
  close.push(stop);
  return { ...served.desk, stop };
}

async function lampAt(topic: string): Promise<{ readonly seen: string[]; readonly client: MqttClient }> {
  const seen: string[] = [];
  const client = await guest(broker, { username: DEVICE.user, password: DEVICE.password });
  close.push(() => client.endAsync(true));
  client.on("message", (_, payload) => seen.push(payload.toString()));
  await client.subscribeAsync(topic, { qos: 1 });
  return { seen, client };
}

/** A device says by the same broker that it has a fault, or has none. */
function report(client: MqttClient, value: boolean): Promise<unknown> {
  const at = new Date().toISOString();
  const readings = [{ array: "A1", at, kind: "earth-fault-bit", value }];
  return client.publishAsync("earthbell/v1/creamery/INV1/readings", JSON.stringify({ readings }), { qos: 1 });
}

describe("a whole desk at a broker", () => {
  it("lights its beacon by a device's fault, says so again after a start, and puts it out", async () => {
    const folder = await folderOf("skerry/quay/lamp");
    const { seen, client } = await lampAt("skerry/quay/lamp");
    const first = await deskIn(folder);
    await until(() => {
      expect(first.listeners[0]?.health().state).toBe("hearing");
      expect(seen).toEqual(["OFF"]);
    });
    await report(client, true);
    await until(() => {
      expect(seen).toEqual(["OFF", "ON"]);
    });
    await first.stop();
    const second = await deskIn(folder);
    await until(() => {
      expect(seen).toEqual(["OFF", "ON", "ON"]);
    });
    await until(() => {
      expect(second.listeners[0]?.health().state).toBe("hearing");
    });
    await report(client, false);
    await until(() => {
      expect(seen).toEqual(["OFF", "ON", "ON", "OFF"]);
    });
    // The lamp may hear a message before the desk has the broker's receipt for it.
    const kept = second.store.db.selectFrom("outbox").select("state").where("channel", "=", "mqtt");
    await vi.waitFor(
      async () => {
        const states = (await kept.execute()).map(({ state }) => state);
        expect(states.length).toBeGreaterThan(0);
        expect(new Set(states)).toEqual(new Set(["sent"]));
      },
      { timeout: 30_000, interval: 50 },
    );
    expect(await second.store.checkSound()).toEqual({ sound: true, problems: [] });
  });

  it("lights its beacon by a drill, gives way to a fault, and says the true state after it and after a start", async () => {
    const topic = "skerry/quay/lamp";
    const folder = await folderOf(topic, ', drill: "TEST"');
    const { seen, client } = await lampAt(topic);
    const first = await deskIn(folder);
    const heard = async (...all: readonly string[]): Promise<void> => {
      await until(() => {
        expect(seen).toEqual(all);
      });
    };
    await heard("OFF");
    expect(await first.watch.startDrill("creamery", "P1", "Ann Lee")).toMatchObject({ ok: true });
    await heard("OFF", "TEST");
    await first.stop();
    const second = await deskIn(folder);
    await heard("OFF", "TEST", "TEST");
    await until(() => {
      expect(second.listeners[0]?.health().state).toBe("hearing");
    });
    await report(client, true);
    await heard("OFF", "TEST", "TEST", "ON");
    const said = await second.watch.seeBeacon("D1", { beacon: "quay-lamp", by: "Ben Gale", seenAt: null });
    expect(said).toMatchObject({ ok: true });
    await heard("OFF", "TEST", "TEST", "ON", "ON");
    // Whoever comes later finds the fault, and no drill.
    const late = await lampAt(topic);
    await until(() => {
      expect(late.seen).toEqual(["ON"]);
    });
    await report(client, false);
    await heard("OFF", "TEST", "TEST", "ON", "ON", "OFF");
  });

  it("and another one beside it are told apart, each by the same name after a start", async () => {
    const [one, other] = [await folderOf("skerry/one"), await folderOf("skerry/other")];
    const desks = [await deskIn(one), await deskIn(other)];
    await until(() => {
      expect(desks.map(({ listeners }) => listeners[0]?.health().state)).toEqual(["hearing", "hearing"]);
    });
    // Two clients of one name throw one another out again and again; these stay.
    const { client } = await lampAt("skerry/none");
    await report(client, true);
    for (const { store } of desks)
      await vi.waitFor(
        async () => {
          const cases = await store.db.selectFrom("fault_case").select("id").execute();
          expect(cases).toHaveLength(1);
        },
        { timeout: 30_000, interval: 50 },
      );
    const ids = [one, other].map((folder) => readFileSync(join(folder, "desk.id"), "utf8"));
    expect(new Set(ids).size).toBe(2);
    await desks[0]!.stop();
    await deskIn(one);
    expect(readFileSync(join(one, "desk.id"), "utf8")).toBe(ids[0]);
  });
});
