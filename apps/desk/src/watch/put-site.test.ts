import { assessSite, type Site } from "@earthbell/engine";
import { readSite, WATCH_LIMITS } from "@earthbell/model";
import { describe, expect, it } from "vitest";
import { CREAMERY } from "../http/served-desk.fixture.ts";
import { openStore } from "../store/index.ts";
import { arrayLimits } from "./array-limits.ts";
import { createWatch } from "./create-watch.ts";

const T = Date.UTC(2026, 10, 25);
const onDate = "2026-11-25";
const log = { info: () => undefined, warn: () => undefined, error: () => undefined };

describe("a site that is put in", () => {
  it("judges no path while others wait, and gives detectors the limits of the whole assessment", async () => {
    const store = await openStore({ kind: "sqlite", file: ":memory:" });
    const paths: number[] = [];
    const watch = createWatch({
      ...{ store, log, clock: { now: () => T, pause: () => Promise.resolve() } },
      ...{ words: () => ({ subject: "", text: "" }), channels: ["email"], keepers: [] },
      ...{ acknowledgeAt: "https://desk.example/a/", linkHoldsMs: 1000 },
      assess: (site: Site) => {
        paths.push(site.paths.length);
        return assessSite(site, { onDate });
      },
    });
    await watch.start();
    await watch.putSite(CREAMERY, "Ann Lee");
    const { limits_json } = await store.db.selectFrom("site").select("limits_json").executeTakeFirstOrThrow();
    await store.close();
    const read = readSite(CREAMERY, "creamery.yaml");
    const site = read.ok ? read.record : null;
    expect(site!.paths.length).toBeGreaterThan(0);
    expect(paths).toEqual([0]);
    const whole = arrayLimits(site!, assessSite(site!, { onDate }), WATCH_LIMITS);
    expect(JSON.parse(limits_json)).toEqual(whole);
  });
});
