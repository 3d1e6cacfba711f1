import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { WatchReading } from "@earthbell/model";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type DeskStore, openStore } from "../../apps/desk/src/store/index.ts";
import type { Envelope } from "../../apps/desk/src/tell/channel.ts";
import { readingOf, siteText } from "../../apps/desk/src/watch/desk.fixture.ts";
import { begin, bundleDesk, type Life } from "./lives.ts";

/** Lives that are cut off. A few hundred take some minutes: DESK_CRASH_RUNS=300. */
const RUNS = Number(process.env["DESK_CRASH_RUNS"] ?? 30);

const STEPS = [
  "accept-begun",
  "accept-readings",
  "accept-detected",
  "accept-written",
  "accept-stored",
  "outbox-claimed",
  "outbox-sent",
  "outbox-written",
  "outbox-recorded",
  "any-time",
] as const;

/** A life whose step does not come is cut off all the same, and does not count for that step. */
const LATE_MS = 6000;

const folder = mkdtempSync(join(tmpdir(), "desk-crash-"));
const file = join(folder, "desk.db");
const sink = join(folder, "sent.jsonl");
/** Readings that the device keeps until the desk has said that it took them. */
const unacknowledged = new Map<string, WatchReading>();
const acknowledged = new Set<string>();
const cutAt: string[] = [];

function hear(life: Life): void {
  for (const { taken } of life.answers) {
    if (typeof taken !== "string") continue;
    acknowledged.add(taken);
    unacknowledged.delete(taken);
  }
}

/** One life: a new site with a fault, and everything that was not acknowledged before. */
async function live(run: number): Promise<void> {
  const killStep = STEPS[run % STEPS.length]!;
  const life = begin(file, sink, killStep, 1 + (Math.floor(run / STEPS.length) % 3));
  if (killStep === "any-time")
    setTimeout(
      () => {
        life.kill();
      },
      150 + ((run * 7919) % 600),
    );
  await life.heard("ready");
  const site = siteOf(run);
  life.tell({ do: "site", text: siteText(site).replace("to: [ann]", "to: [ann, ben]") });
  if ((await life.heard("put")) === true) {
    for (const reading of faultsOf(site)) unacknowledged.set(reading.key, reading);
  }
  for (const reading of unacknowledged.values()) life.tell({ do: "read", reading });
  const late = setTimeout(() => {
    life.kill();
  }, LATE_MS);
  const from = performance.now();
  await life.ended;
  clearTimeout(late);
  hear(life);
  if (performance.now() - from < LATE_MS) cutAt.push(killStep);
}

const siteOf = (run: number) => `site-${run}`;

function faultsOf(site: string): readonly WatchReading[] {
  const at = Date.now();
  return [
    readingOf("earth-fault-bit", true, { site, at, key: `${site} bit` }),
    readingOf("insulation", 9000, { site, at, key: `${site} low` }),
    readingOf("insulation", 8000, { site, at: at + 1, key: `${site} lower` }),
  ];
}

describe("a desk that is killed at every step and at any time", () => {
  let store: DeskStore;
  let sent: readonly Envelope[];
  let sites: readonly string[];

  beforeAll(async () => {
    await bundleDesk();
    for (let run = 0; run < RUNS; run++) await live(run);
    const last = begin(file, sink, "none", 0);
    await last.heard("ready");
    for (const reading of unacknowledged.values()) last.tell({ do: "read", reading });
    while (unacknowledged.size > 0 && last.isAlive()) {
      await new Promise((resolve) => setTimeout(resolve, 20));
      hear(last);
    }
    last.tell({ do: "rest" });
    await last.heard("resting");
    last.stop();
    expect(await last.ended).toBe("stopped");
    expect(last.answers.filter(({ failed }) => failed !== undefined)).toEqual([]);
    store = await openStore({ kind: "sqlite", file });
    const lines = readFileSync(sink, "utf8").trim().split("\n");
    sent = lines.map((line) => JSON.parse(line) as Envelope);
    sites = [...acknowledged].filter((key) => key.endsWith(" bit")).map((key) => key.split(" ")[0]!);
  }, 900_000);

  afterAll(async () => {
    await store.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it("was cut off at each of its steps", () => {
    expect(new Set(cutAt)).toEqual(new Set(STEPS.slice(0, RUNS)));
    expect(sites.length).toBeGreaterThan(RUNS / 2);
  });

  it("leaves a database that is sound", async () => {
    expect(await store.checkSound()).toEqual({ sound: true, problems: [] });
  });

  it("has lost no reading that it acknowledged", async () => {
    const rows = await store.db.selectFrom("reading").select("key").execute();
    expect(new Set(rows.map(({ key }) => key))).toEqual(acknowledged);
  });

  it("has each fault once, in one open case", async () => {
    const alarms = await store.db
      .selectFrom("alarm")
      .selectAll()
      .where("sign", "=", "earth-fault-bit")
      .execute();
    expect(alarms.map(({ site }) => site).toSorted()).toEqual(sites.toSorted());
    for (const alarm of alarms) expect(alarm).toMatchObject({ condition: "active", occurrence: 1 });
    const cases = await store.db
      .selectFrom("fault_case")
      .select("site")
      .where("closed_at", "is", null)
      .execute();
    expect(cases.map(({ site }) => site).toSorted()).toEqual(sites.toSorted());
  });

  it("has told every recipient of every fault", async () => {
    const rows = await store.db.selectFrom("outbox_cover").selectAll().execute();
    const keys = new Set(sent.map(({ key }) => key));
    for (const site of sites) {
      for (const person of ["ann", "ben"]) {
        const covering = rows.filter((row) => row.site === site && row.person === person);
        expect(
          covering.some(({ outbox_key }) => keys.has(outbox_key)),
          `${person} of ${site}`,
        ).toBe(true);
      }
    }
  });

  it("sent a message twice only under the same key, and recorded each once", async () => {
    const byMessage = new Map<string, Set<string>>();
    for (const { matter, person, kind, sequence, channel, key } of sent) {
      const message = JSON.stringify([matter, person, kind, sequence, channel]);
      byMessage.set(message, (byMessage.get(message) ?? new Set()).add(key));
    }
    for (const [message, keys] of byMessage) expect(keys.size, message).toBe(1);
    const recorded = await store.db.selectFrom("outbox").select("key").where("state", "=", "sent").execute();
    expect(recorded.map(({ key }) => key).toSorted()).toEqual(
      [...new Set(sent.map(({ key }) => key))].toSorted(),
    );
  });

  it("was killed between sending and recording, so that there are such duplicates", () => {
    expect(sent.length).toBeGreaterThan(new Set(sent.map(({ key }) => key)).size);
  });

  it("told its keepers that it had not been listening", () => {
    expect(sent.some(({ person, subject }) => person === "kim" && subject === "unclean-stop")).toBe(true);
  });
});
