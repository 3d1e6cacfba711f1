import { execFileSync } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it, vi } from "vitest";
import { machineClock, makeSiteToken, openStore, serveFolder } from "../../apps/desk/src/index.ts";
import { frailDisk, mayMount, smallDisk } from "./mounted.ts";

const SITE = readFileSync(new URL("../../demo/sites/creamery.yaml", import.meta.url), "utf8");
const close: (() => unknown)[] = [];
afterEach(async () => {
  for (const one of close.splice(0).reverse()) await one();
});
const until = (what: () => unknown) => vi.waitFor(what, { timeout: 60_000, interval: 200 });

function furnish(disk: string): string {
  const folder = join(disk, "desk");
  mkdirSync(join(folder, "sites"), { recursive: true });
  writeFileSync(join(folder, "desk.yaml"), "format: earthbell.desk/1\ndesk: {name: Skerry co-operative}\n");
  writeFileSync(join(folder, "sites", "creamery.yaml"), SITE);
  // These files were written long ago; what the desk writes it brings to the disk by itself.
  execFileSync("sync", ["-f", folder]);
  return folder;
}

/** A whole desk, and a sender that pushes to it. */
async function deskIn(folder: string) {
  const said: unknown[] = [];
  const note = (about: object, text: string): void => void said.push({ ...about, text });
  const served = await serveFolder(folder, {
    environment: {},
    clock: machineClock,
    log: { info: note, warn: note, error: note },
    random: () => 0.5,
    version: "0.0.0",
    listenAt: { port: 0 },
  });
  if (!served.ok) throw new Error(JSON.stringify(served.faults));
  const { desk } = served;
  const about = { label: "logger", by: "Kim", at: Date.now() };
  const token = (await makeSiteToken(desk.store, "creamery", about))!;
  const push = (readings: readonly object[]) =>
    fetch(`${desk.url}/api/push/readings`, {
      method: "POST",
      headers: { authorization: `Bearer ${token}`, "content-type": "application/json" },
      body: JSON.stringify({ readings }),
    });
  const health = async () => {
    const answer = await fetch(`${desk.url}/healthz`);
    return { status: answer.status, ...((await answer.json()) as object) };
  };
  return { desk, said, push, health };
}

let count = 0;

/** Readings that nobody has seen yet, with their keys. */
function fresh(many: number) {
  const readings = Array.from({ length: many }, () => {
    count += 1;
    const key = `reading ${count}`;
    return { device: "INV1", at: Date.now(), kind: "insulation", value: 1e6 + count, unit: "ohm", key };
  });
  return { readings, keys: readings.map(({ key }) => key) };
}

const fault = () => ({
  device: "INV1",
  at: Date.now(),
  kind: "earth-fault-bit",
  value: true,
  unit: "bit",
  key: "the fault",
});

/** Pushes until it is refused. */
async function pushToTheEnd(push: Awaited<ReturnType<typeof deskIn>>["push"], acknowledged: string[]) {
  for (let round = 0; round < 500; round++) {
    const { readings, keys } = fresh(500);
    const answer = await push(readings);
    if (answer.status !== 200) return { answer, readings, keys };
    acknowledged.push(...keys);
  }
  throw new Error("It was never refused.");
}

async function storedKeys(folder: string): Promise<ReadonlySet<string>> {
  const store = await openStore({ kind: "sqlite", file: join(folder, "desk.db") });
  expect((await store.checkSound()).problems).toEqual([]);
  const rows = await store.db.selectFrom("reading").select("key").execute();
  await store.close();
  return new Set(rows.map(({ key }) => key));
}

describe.skipIf(!mayMount())("a desk on a disk of its own (needs the right to mount)", () => {
  it("that is full refuses by code, says so, and goes on by itself once there is room", async () => {
    const disk = smallDisk(48);
    close.push(disk.remove);
    const folder = furnish(disk.folder);
    const { desk, said, push, health } = await deskIn(folder);
    close.push(() => desk.stop());
    const acknowledged: string[] = [];
    const first = fresh(10);
    expect((await push(first.readings)).status).toBe(200);
    acknowledged.push(...first.keys);

    disk.fill();
    const refused = await pushToTheEnd(push, acknowledged);
    expect(refused.answer.status).toBe(503);
    expect(Number(refused.answer.headers.get("retry-after"))).toBeGreaterThan(0);
    expect(await refused.answer.json()).toMatchObject({ error: { code: "REQUEST_NOT_STORED" } });
    expect((await push([...refused.readings, fault()])).status).toBe(503);
    await until(async () => {
      expect(await health()).toMatchObject({ status: 503, state: "unwell", trouble: "STORE_FULL" });
      expect(said).toContainEqual(expect.objectContaining({ code: "STORE_FULL" }));
    });

    disk.makeRoom();
    await until(async () => {
      expect((await push([...refused.readings, fault()])).status).toBe(200);
    });
    acknowledged.push(...refused.keys, "the fault");
    await until(async () => {
      expect(await health()).toMatchObject({ status: 200, trouble: null });
    });
    const cases = await desk.store.db.selectFrom("fault_case").select("site").execute();
    expect(cases).toEqual([{ site: "creamery" }]);
    await desk.stop();
    close.pop();
    const stored = await storedKeys(folder);
    expect(acknowledged.filter((key) => !stored.has(key))).toEqual([]);
  });

  it("that fails under it refuses by code, can be stopped, and goes on with all of it once it is mended", async () => {
    const disk = frailDisk(64);
    close.push(disk.remove);
    const folder = furnish(disk.folder);
    const before = await deskIn(folder);
    close.push(() => before.desk.stop().catch(() => undefined));
    const first = fresh(100);
    expect((await before.push([...first.readings, fault()])).status).toBe(200);

    disk.fail();
    const lost = fresh(10);
    const refused = await before.push(lost.readings);
    expect(refused.status).toBe(503);
    expect(await refused.json()).toMatchObject({ error: { code: "REQUEST_NOT_STORED" } });
    await until(async () => {
      const { status, trouble } = (await before.health()) as { status: number; trouble?: string };
      expect([status, trouble]).toEqual([503, expect.stringMatching(/^STORE_(?:READ_ONLY|FAILING)$/u)]);
      expect(before.said).toContainEqual(expect.objectContaining({ code: trouble }));
    });
    await before.desk.stop().catch(() => undefined);
    close.pop();

    disk.mend();
    const after = await deskIn(folder);
    close.push(() => after.desk.stop());
    expect((await after.push(lost.readings)).status).toBe(200);
    const cases = await after.desk.store.db.selectFrom("fault_case").select("site").execute();
    expect(cases).toEqual([{ site: "creamery" }]);
    await after.desk.stop();
    close.pop();
    const stored = await storedKeys(folder);
    expect([...first.keys, ...lost.keys, "the fault"].filter((key) => !stored.has(key))).toEqual([]);
  });
});
