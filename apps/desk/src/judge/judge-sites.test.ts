import { BUILT_IN_PACKS } from "@earthbell/engine";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { CREAMERY, DAWN, type ServedDesk, servedDesk } from "../http/served-desk.fixture.ts";
import { createSiteJudge } from "./judge-sites.ts";
import { judgeNow } from "./judging.ts";

const DAY_MS = 86_400_000;
const never = new AbortController().signal;
const log = { info: () => undefined, warn: () => undefined, error: () => undefined };

describe("how sites stand", () => {
  let desk: ServedDesk;
  let now: number;
  let judged: string[];
  let meanwhile: () => void;
  beforeEach(async () => {
    now = DAWN;
    judged = [];
    meanwhile = () => undefined;
    desk = await servedDesk(() => now);
  });
  afterEach(async () => {
    await desk.close();
  });

  const judge = () =>
    createSiteJudge({
      store: desk.store,
      clock: { now: () => now, pause: () => Promise.resolve() },
      log,
      packs: () => BUILT_IN_PACKS,
      judging: {
        judge: (job) => {
          judged.push(job.site.id);
          meanwhile();
          return Promise.resolve(judgeNow(job));
        },
        rest: () => Promise.resolve(),
      },
    });

  it("is not known before a site was judged, and is what its assessment says afterwards", async () => {
    await desk.watch.putSite(CREAMERY, "Ann Lee");
    const sites = judge();
    expect(sites.standing("creamery")).toBeNull();
    await sites.judgeDue(never);
    // The dates and the verdicts are those that stand in the demonstration's own file and on its assessment.
    expect(sites.standing("creamery")).toMatchObject({
      duty: "undecided",
      path: "meets",
      provedOn: "2026-02-03",
    });
  });

  it("is judged once a day of the site, and at once when the file changes", async () => {
    await desk.watch.putSite(CREAMERY, "Ann Lee");
    const sites = judge();
    await sites.judgeDue(never);
    await sites.judgeDue(never);
    expect(judged).toEqual(["creamery"]);
    now += DAY_MS;
    await sites.judgeDue(never);
    expect(judged).toHaveLength(2);
    await desk.watch.putSite(CREAMERY.replace("Hennick creamery", "Old creamery"), "Ann Lee");
    await sites.judgeDue(never);
    expect(judged).toHaveLength(3);
  });

  it("is judged anew when the rules have changed, and stands as it was until then", async () => {
    await desk.watch.putSite(CREAMERY, "Ann Lee");
    const sites = judge();
    await sites.judgeDue(never);
    sites.judgeAnew();
    expect(sites.standing("creamery")).not.toBeNull();
    await sites.judgeDue(never);
    expect(judged).toHaveLength(2);
  });

  it("is judged anew when the rules change while it is being judged", async () => {
    await desk.watch.putSite(CREAMERY, "Ann Lee");
    const sites = judge();
    meanwhile = sites.judgeAnew;
    await sites.judgeDue(never);
    meanwhile = () => undefined;
    await sites.judgeDue(never);
    await sites.judgeDue(never);
    expect(judged).toHaveLength(2);
  });

  it("is forgotten with the site", async () => {
    await desk.watch.putSite(CREAMERY, "Ann Lee");
    const sites = judge();
    await sites.judgeDue(never);
    await desk.watch.removeSite("creamery", "Ann Lee");
    await sites.judgeDue(never);
    expect(sites.standing("creamery")).toBeNull();
  });
});
