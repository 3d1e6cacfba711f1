import type { Drill } from "@earthbell/model";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { makeOwnerLink } from "../accounts/owner-links.ts";
import type { SiteStanding } from "../judge/site-standing.ts";
import type { Now } from "../overview/now.ts";
import { makePersonToken } from "./make-token.ts";
import { lookName } from "./session-cookie.ts";
import { askDesk, CREAMERY, DAWN as NOW, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;
const never = new AbortController().signal;
const JUDGED: SiteStanding = {
  ...{ onDate: "2026-11-25", duty: "required", path: "falls-short", thresholdOhms: 30_000 },
  provedOn: null,
};
let desk: ServedDesk;
let token: string;
let now = NOW;

beforeEach(async () => {
  now = NOW;
  desk = await servedDesk(() => now, { standing: (site) => (site === "site-0" ? null : JUDGED) });
  token = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: NOW });
});
afterEach(() => desk.close());

const asked = async (): Promise<Now> => (await askDesk(desk, token, ["GET", "/api/now"])).said;

async function putSites(count: number): Promise<void> {
  for (let n = 0; n < count; n++)
    await desk.watch.putSite(CREAMERY.replace("id: creamery", `id: site-${n}`), "test");
}

const fault = (site: string, at = NOW) => ({
  ...({ site, array: "A1", device: "INV1", at, kind: "earth-fault-bit", value: true, unit: "bit" } as const),
  ...({ quality: "good", source: "test", key: `${site} ${at}` } as const),
});

async function holdDrill(change: Partial<Drill> & Pick<Drill, "id" | "path">): Promise<void> {
  const drill: Drill = {
    ...{ site: "site-1", trigger: "on-demand", by: "Ann", startedAt: NOW, answerByAt: NOW + DAY_MS },
    ...{ recipients: [{ person: "owner", acknowledgedAt: null }], leftOut: [], ended: null },
    ...change,
  };
  const { id, site, path, startedAt, answerByAt, ended } = drill;
  await desk.store.amend((tx) =>
    tx
      .insertInto("drill")
      .values({
        ...{ id, site, path_id: path, started_at: startedAt, answer_by_at: answerByAt, reading_key: null },
        ...{ ended_at: ended?.at ?? null, outcome: ended?.outcome ?? null },
        drill_json: JSON.stringify(drill),
      })
      .execute(),
  );
}

const ended = (outcome: "passed" | "missed", daysAgo: number) => ({
  startedAt: NOW - daysAgo * DAY_MS,
  ended: { at: NOW - daysAgo * DAY_MS + 60_000, outcome },
});

/** Two years of dry mornings; of the sinking array nine tenths are lost in the second year. */
async function pushHistory(site: string, sinks: boolean): Promise<void> {
  const rows = Array.from({ length: 730 }, (_, day) => {
    const share = sinks ? 10 ** (-Math.max(0, day - 365) / 365) : 1;
    const ohms = Math.round(2e6 * share * (1 + 0.05 * Math.sin(day)));
    return `${new Date(NOW - (730 - day) * DAY_MS).toISOString()},A1,${ohms}`;
  });
  const table = ["instant,array,insulation (Ω)", ...rows].join("\n");
  const way = ["POST", `/api/push/table?site=${site}&device=logger`] as const;
  const { status } = await askDesk(desk, token, way, table, { "content-type": "text/csv" });
  expect(status).toBe(200);
}

/** Puts the sign on record that the insulation of a site's array sinks. */
async function sinks(site: string): Promise<void> {
  const id = `${site}:array:A1:insulation-drifting`;
  const one = { id, site, sign: "insulation-drifting", condition: "active", occurrence: 1 } as const;
  const alarm = { ...one, subject: { kind: "array", array: "A1" }, activeAt: NOW, acknowledged: null };
  await desk.store.amend((tx) =>
    tx
      .insertInto("alarm")
      .values({
        ...{ ...one, array_id: "A1", path_id: null, person: null },
        ...{ active_at: NOW, alarm_json: JSON.stringify(alarm) },
      })
      .execute(),
  );
}

interface Ranked {
  readonly array: string;
  readonly visit: { readonly why: string; readonly by: string } | null;
}

/** What Drift says is worth a visit. */
async function worthAVisit(): Promise<readonly Ranked[]> {
  const { said } = await askDesk(desk, token, ["GET", "/api/drift"]);
  const { fleet } = said as { readonly fleet: { readonly ranking: readonly Ranked[] } };
  return fleet.ranking.filter(({ visit }) => visit !== null);
}

const shown = async (): Promise<readonly Ranked[]> =>
  (await asked()).visits.map(({ site, array, why, by }) => ({
    array: `${site}/${array}`,
    visit: { why, by },
  }));

describe("arrays that their histories say somebody has to go to", () => {
  beforeEach(async () => {
    await putSites(3);
    await pushHistory("site-1", true);
    await pushHistory("site-2", false);
  });

  it("are named in Drift's words once the histories have been read, and nothing is read for whoever asks", async () => {
    expect(await asked()).toMatchObject({ visits: [], historiesRead: false });
    await desk.drift.workOutDue(never);
    now += MINUTE_MS;
    expect(await asked()).toMatchObject({ historiesRead: true, more: { visits: 0 } });
    const worth = await worthAVisit();
    expect(worth.map(({ array }) => array)).toEqual(["site-1/A1"]);
    expect(await shown()).toEqual(worth.map(({ array, visit }) => ({ array, visit })));
  });

  it("stand once where the watch sees the insulation sink as well", async () => {
    await desk.drift.workOutDue(never);
    now += MINUTE_MS;
    await sinks("site-1");
    await sinks("site-2");
    const { alarms, visits } = await asked();
    expect(alarms.map(({ site, sign }) => [site, sign])).toEqual([["site-2", "insulation-drifting"]]);
    expect(visits.map(({ site, sinkingSince }) => [site, sinkingSince])).toEqual([["site-1", NOW]]);
  });

  it("are left to their case while a fault is there, and to nobody when the site is not watched any more", async () => {
    await desk.drift.workOutDue(never);
    await desk.watch.accept([fault("site-1")]);
    expect((await asked()).visits).toEqual([]);
    await desk.watch.removeSite("site-1", "test");
    now += MINUTE_MS;
    expect((await asked()).visits).toEqual([]);
    await desk.drift.workOutDue(never);
    expect([...desk.drift.due]).toEqual([]);
  });
});

describe("what needs a person, as the desk tells it", () => {
  it("names fifty faults that nobody answered, counts the others, and keeps their histories to itself", async () => {
    await putSites(60);
    await desk.watch.accept(Array.from({ length: 57 }, (_, n) => fault(`site-${n}`)));
    const { cases, alarms, more, names, watched, quiet } = await asked();
    expect([cases.length, alarms.length, more.unanswered, more.present]).toEqual([50, 50, 7, 0]);
    expect(cases[0]).not.toHaveProperty("timeline");
    expect(names[cases[0]!.site]).toBe("Hennick creamery");
    expect({ watched, quiet }).toEqual({ watched: 60, quiet: 3 });
  });

  it("puts the newest fault first, and tells one that was answered after those that were not", async () => {
    await putSites(3);
    for (const site of ["site-0", "site-1", "site-2"]) {
      now += 60_000;
      await desk.watch.accept([fault(site, now)]);
    }
    const before = (await asked()).cases;
    expect(before.map(({ site }) => site)).toEqual(["site-2", "site-1", "site-0"]);
    await desk.watch.acknowledge(before[0]!.id, "Ann Lee", {});
    expect((await asked()).cases.map(({ site }) => site)).toEqual(["site-1", "site-0", "site-2"]);
  });

  it("groups what the files say, and counts what is not judged yet", async () => {
    await putSites(6);
    expect(await asked()).toMatchObject({
      unjudged: 1,
      unserved: { first: ["site-1", "site-2", "site-3"], count: 5 },
      unproved: { first: ["site-1", "site-2", "site-3"], count: 5 },
    });
  });

  it("tells of drills that run, were missed or run out, and of no other", async () => {
    await putSites(2);
    await holdDrill({ id: "D1", path: "lately", ...ended("passed", 20) });
    await holdDrill({ id: "D2", path: "long ago", ...ended("passed", 350) });
    await holdDrill({ id: "D3", path: "missed", ...ended("missed", 10) });
    await holdDrill({ id: "D4", path: "missed, then passed", ...ended("missed", 40) });
    await holdDrill({ id: "D5", path: "missed, then passed", ...ended("passed", 30) });
    await holdDrill({ id: "D6", path: "runs" });
    const { drills, more, lastPassed } = await asked();
    expect(drills.map(({ path }) => path)).toEqual(["runs", "missed", "long ago"]);
    expect(more.drills).toBe(0);
    expect(lastPassed).toMatchObject({ site: "site-1", path: "lately" });
  });

  it("is told anew as soon as something happens", async () => {
    await putSites(2);
    expect((await asked()).cases).toEqual([]);
    await desk.watch.accept([fault("site-1")]);
    expect((await asked()).cases).toHaveLength(1);
  });
});

describe("lists that are cut", () => {
  it("say how many cases there are, and show those of a person's own sites however old they are", async () => {
    await putSites(4);
    for (const site of ["site-1", "site-2", "site-3"]) {
      now += 60_000;
      await desk.watch.accept([fault(site, now)]);
    }
    expect((await askDesk(desk, token, ["GET", "/api/case-lines?limit=2"])).said).toMatchObject({
      count: 3,
      cases: [
        { site: "site-3", name: "Hennick creamery", state: "present" },
        { site: "site-2", state: "present" },
      ],
    });
    const link = { label: "An owner", sites: ["site-1"], days: 30 };
    const looks = await makeOwnerLink(desk.store, link, { by: "test", at: now });
    const cookie = `${lookName("__Host-earthbell")}=${looks}`;
    const own = (url: string) => desk.app.inject({ method: "GET", url, headers: { cookie } });
    expect((await own("/api/case-lines?limit=1")).json()).toMatchObject({
      count: 1,
      cases: [{ site: "site-1" }],
    });
    expect((await own("/api/cases?limit=1")).json()).toMatchObject([{ site: "site-1" }]);
    expect((await own("/api/now")).json()).toMatchObject({ watched: 1, cases: [{ site: "site-1" }] });
  });
});

describe("the register", () => {
  it("lists many sites in the order of their ids, one alone, and none that is not there", async () => {
    await putSites(12);
    await desk.watch.accept([fault("site-3")]);
    const { said } = await askDesk(desk, token, ["GET", "/api/sites"]);
    const lines = said as readonly { readonly id: string; readonly openCases: number }[];
    expect(lines.map(({ id }) => id)).toEqual(Array.from({ length: 12 }, (_, n) => `site-${n}`).toSorted());
    expect(lines.filter(({ openCases }) => openCases > 0).map(({ id }) => id)).toEqual(["site-3"]);
    expect((await askDesk(desk, token, ["GET", "/api/sites?id=site-3"])).said).toMatchObject([
      { id: "site-3", openCases: 1, name: "Hennick creamery" },
    ]);
    expect((await askDesk(desk, token, ["GET", "/api/sites?id=elsewhere"])).said).toEqual([]);
  });
});
