import { assessSite } from "@earthbell/engine";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { openStore } from "../store/index.ts";
import { wordsFor } from "../tell/words/words.ts";
import { createWatch } from "../watch/index.ts";
import { planFirstDrills } from "./plan-drills.ts";

const NOW = Date.UTC(2026, 10, 24, 17, 0);
const CREAMERY = readFileSync(new URL("../../../../demo/sites/creamery.yaml", import.meta.url), "utf8");
const silent = { info: () => undefined, warn: () => undefined, error: () => undefined };

async function planned(text: string, times = 1): Promise<readonly { path_id: string; at: number | null }[]> {
  const store = await openStore({ kind: "sqlite", file: ":memory:" });
  const watch = createWatch({
    store,
    clock: { now: () => NOW, pause: () => Promise.resolve() },
    log: silent,
    words: wordsFor,
    channels: ["email"],
    keepers: [],
    acknowledgeAt: "https://desk.example.org/a/",
    linkHoldsMs: 1,
    assess: (site) => assessSite(site, { onDate: "2026-11-25" }),
  });
  await watch.start();
  await watch.putSite(text, "test");
  for (let time = 0; time < times; time++) await planFirstDrills(store, watch, NOW);
  const rows = await store.db.selectFrom("drill_plan").select(["path_id", "at"]).execute();
  await store.close();
  return rows;
}

describe("the first drill of a path", () => {
  it("is due when the one on record runs out, at ten in the morning of the site", async () => {
    // Held on 2026-02-03 and good for twelve months; Melbourne is eleven hours ahead in February.
    expect(await planned(CREAMERY)).toEqual([{ path_id: "P1", at: Date.UTC(2027, 1, 2, 23, 0) }]);
  });

  it("comes within two weeks where none was held", async () => {
    const never = CREAMERY.replace(/ {2}- \{path: P1, kind: drill[^\n]*\n/u, "");
    const [plan] = await planned(never);
    expect(plan!.at).toBeGreaterThan(NOW);
    expect(plan!.at).toBeLessThanOrEqual(NOW + 15 * 86_400_000);
  });

  it("is planned once", async () => {
    expect(await planned(CREAMERY, 3)).toHaveLength(1);
  });
});
