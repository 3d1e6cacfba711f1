import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type DeskStore, openStore } from "../../apps/desk/src/store/index.ts";
import { postgresServer, sqliteFiles } from "../desk-store/databases.ts";
import { type Harm, harmOf } from "./after-crashes.ts";
import { crashLoop, CUTS, type LoopEnd } from "./crash-loop.ts";
import { bundleDesk } from "./lives.ts";

/** Lives that are cut off, on each kind of store. Hundreds of them: `npm run bench -- desk-crash`. */
const RUNS = Number(process.env["DESK_CRASH_RUNS"] ?? 24);

describe.each([sqliteFiles(), postgresServer()])("a desk on $kind, killed at every step", (databases) => {
  const folder = mkdtempSync(join(tmpdir(), "desk-crash-"));
  let store: DeskStore;
  let end: LoopEnd;
  let harm: Harm;

  beforeAll(async () => {
    await bundleDesk();
    await databases.start();
    const place = await databases.fresh();
    end = await crashLoop({ place, sink: join(folder, "sent.jsonl"), runs: RUNS, seed: 1 });
    store = await openStore(place);
    harm = await harmOf(store, end);
  }, 900_000);

  afterAll(async () => {
    await store.close();
    await databases.stop();
    rmSync(folder, { recursive: true, force: true });
  });

  it("was cut off at each of its steps", () => {
    expect(new Set(end.cuts.keys())).toEqual(new Set(CUTS.slice(0, RUNS)));
    expect(end.sites).toHaveLength(RUNS);
  });

  it("leaves a database that is sound", () => {
    expect(harm.unsound).toEqual([]);
  });

  it("has lost no reading that it acknowledged", () => {
    expect(harm.readings).toEqual([]);
  });

  it("has each fault once, in one open case", () => {
    expect(harm.faults).toEqual([]);
  });

  it("has told every recipient of every fault", () => {
    expect(harm.untold).toEqual([]);
  });

  it("sent a message twice only under the same key, and recorded each once", () => {
    expect(harm.underTwoKeys).toEqual([]);
    expect(harm.unrecorded).toEqual([]);
  });

  it("was killed between sending and recording, so that there are such duplicates", () => {
    expect(end.sent.length).toBeGreaterThan(new Set(end.sent.map(({ key }) => key)).size);
  });

  it("told its keepers that it had not been listening", () => {
    expect(end.sent.some(({ person, subject }) => person === "kim" && subject === "unclean-stop")).toBe(true);
  });

  it("had nothing left that failed", () => {
    expect(end.failed).toEqual([]);
  });
});
