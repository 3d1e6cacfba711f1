import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { WATCH_LIMITS } from "@earthbell/model";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { siteFilesIn } from "../folder/site-files.ts";
import { createOutboxWorker } from "../outbox/index.ts";
import { journalAfter } from "../store/index.ts";
import type { Channel, SendOutcome } from "../tell/channel.ts";
import { makePersonToken } from "./make-token.ts";
import { askDesk, CREAMERY, DAWN, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

const demo = (name: string): string =>
  readFileSync(new URL(`../../../../demo/sites/${name}.yaml`, import.meta.url), "utf8");
const CANNERY = demo("cannery");
const MINUTE = 60_000;

let now: number;
/** Addresses that the mail server refuses. */
let refuses: Set<string>;
let desk: ServedDesk;
let folder: string;
let token: string;
/** What was handed over, by address. */
let handed: Map<string, string>;

const mail: Channel = {
  kind: "email",
  send: ({ address, acknowledgeUrl = "" }) => {
    handed.set(address, acknowledgeUrl);
    return Promise.resolve(refuses.has(address) ? REFUSED : TAKEN);
  },
  close: () => Promise.resolve(),
};
const TAKEN: SendOutcome = { outcome: "accepted", reply: "250 taken" };
const REFUSED: SendOutcome = { outcome: "refused", reason: "550 5.1.1 No mailbox of that name" };

beforeEach(async () => {
  now = DAWN;
  refuses = new Set();
  handed = new Map();
  folder = mkdtempSync(join(tmpdir(), "earthbell-people-"));
  const setUp = {
    file: null,
    settings: { desk: { name: "Skerry" } },
    limits: WATCH_LIMITS,
    channels: [mail],
  };
  desk = await servedDesk(() => now, { siteFiles: siteFilesIn(folder), setUp });
  token = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: now });
  for (const [id, text] of [
    ["creamery", CREAMERY],
    ["cannery", CANNERY],
  ])
    await ask("PUT", `/api/sites/${id!}`, text);
});
afterEach(() => desk.close());

async function ask(method: "GET" | "POST" | "PUT", url: string, body?: unknown) {
  const { status, said } = await askDesk(desk, token, [method, url], body);
  return { status, said: said as Answer };
}

interface Line {
  readonly of: { readonly site: string; readonly person: string };
  readonly ids: readonly string[];
  readonly ways: readonly { readonly address: string; readonly broken: { readonly reason: string } | null }[];
  readonly message: object | null;
  readonly answer: object | null;
}
interface Answer {
  readonly people: readonly Line[];
  readonly sites: readonly { readonly site: string }[];
  readonly seen: string;
  readonly error: {
    readonly code: string;
    readonly faults: readonly object[];
    readonly fields: readonly object[];
  };
}

async function deliver(): Promise<void> {
  const log = { info: () => undefined, warn: () => undefined, error: () => undefined };
  const clock = { now: () => now, pause: () => Promise.resolve() };
  await desk.watch.look();
  await createOutboxWorker({ store: desk.store, clock, log, channels: [mail], name: "test" }).sendDue();
  await desk.watch.look();
}

const personSaid = async (find: string): Promise<Line> =>
  (await ask("GET", `/api/told-people?find=${find}`)).said.people[0]!;
const inFolder = (name: string): string => readFileSync(join(folder, `${name}.yaml`), "utf8");
const silentAbout = async (person: string): Promise<readonly string[]> => {
  const alarms = await desk.store.db
    .selectFrom("alarm")
    .select(["alarm_json"])
    .where("sign", "=", "path-silent")
    .execute();
  return alarms
    .map(
      ({ alarm_json }) => JSON.parse(alarm_json) as { condition: string; subject: { person: string | null } },
    )
    .filter(({ subject }) => subject.person === person)
    .map(({ condition }) => condition);
};
const DESK = { site: "creamery", person: "desk" };
const OWNER = { site: "creamery", person: "owner" };

describe("the list of people", () => {
  it("has one line for an address over all sites, with hours and everything that is set", async () => {
    const { said } = await ask("GET", "/api/told-people?find=faults");
    expect(said).toMatchObject({
      all: 5,
      found: 1,
      broken: 0,
      people: [
        {
          of: { site: "cannery", person: "desk" },
          ...{ ids: ["desk"], roles: ["service"], sites: 2, paths: 2, message: null, answer: null },
          ways: [{ channel: "email", address: "faults@example.org", used: true, broken: null }],
          habits: [{ reads: "Mon-Fri 07:00-17:00", checksPerDay: 20, sites: 2 }],
          zones: ["Europe/Berlin", "Australia/Melbourne"],
        },
      ],
    });
  });

  it("tells the last message and how long its answer by link took", async () => {
    await ask("POST", "/api/sites/creamery/paths/P1/drills", {});
    await deliver();
    expect(await personSaid("creamery@")).toMatchObject({
      message: { state: "sent", kind: "drill", reply: "250 taken" },
      answer: null,
    });
    now += 7 * MINUTE;
    const link = handed.get("creamery@example.net")!.split("/").at(-1)!;
    expect((await desk.watch.redeemLink(link)).ok).toBe(true);
    expect((await personSaid("creamery@")).answer).toEqual({
      at: now,
      site: "creamery",
      kind: "drill",
      tookMs: 7 * MINUTE,
    });
    expect((await personSaid("faults@")).answer).toBeNull();
  });
});

describe("hours and absences of a person", () => {
  const change = {
    reads: "Mon-Fri 06:00-18:00",
    awayAdded: [{ from: "2026-12-20", to: "2027-01-04" }],
    checksPerDay: null,
  };

  it("are shown first for every site, and are then each the next revision of their file, on record by name", async () => {
    const seen = await ask("POST", "/api/told-people/preview", { of: DESK, sites: null, change });
    expect(seen.said).toMatchObject({
      ...{ unchanged: 0, notAllowed: 0 },
      sites: ["cannery", "creamery"].map((site) => ({
        ...{ site, rewritten: false },
        changes: [
          { person: "desk", what: "reads", before: "Mon-Fri 07:00-17:00", now: "Mon-Fri 06:00-18:00" },
          { person: "desk", what: "looks a day", before: "20", now: null },
          { person: "desk", what: "away", before: null, now: "2026-12-20 to 2027-01-04" },
        ],
      })),
    });
    expect(inFolder("creamery")).toBe(CREAMERY);
    const put = await ask("POST", "/api/told-people/apply", {
      of: DESK,
      sites: null,
      change,
      seen: seen.said.seen,
    });
    expect(put).toMatchObject({ status: 200, said: { sites: 2 } });
    expect(inFolder("creamery")).toContain('    reads: "Mon-Fri 06:00-18:00"\n');
    expect(inFolder("cannery")).toContain("away: [{from: 2026-12-20, to: 2027-01-04}]}");
    const rows = await journalAfter(desk.store.db, 0, 1000);
    expect(
      rows.filter(({ kind, by }) => kind === "person" && by === "Ann Lee").map(({ text }) => text),
    ).toEqual([
      "Changed at 2 sites (cannery, creamery): reads: Mon-Fri 06:00-18:00; looks a day: not said; away: 2026-12-20 to 2027-01-04.",
    ]);
    const removed = { awayRemoved: change.awayAdded };
    const again = await ask("POST", "/api/told-people/preview", {
      of: DESK,
      sites: ["cannery"],
      change: removed,
    });
    expect(again.said.sites).toMatchObject([{ site: "cannery", changes: [{ what: "away", now: null }] }]);
  });

  it("are not changed where a file was changed since they were looked at", async () => {
    const seen = await ask("POST", "/api/told-people/preview", { of: DESK, sites: null, change });
    await ask("PUT", "/api/sites/creamery", CREAMERY.replace("38.0 V", "38.5 V"));
    const late = await ask("POST", "/api/told-people/apply", {
      of: DESK,
      sites: null,
      change,
      seen: seen.said.seen,
    });
    expect(late).toMatchObject({ status: 409, said: { error: { code: "SITE_FILE_CHANGED" } } });
    expect(inFolder("cannery")).toBe(CANNERY);
  });

  it("that are wrong are named by their field, all at once", async () => {
    const wrong = {
      reads: "Mon-Fry 07:00-17:00",
      awayAdded: [{ from: "2026-12-20", to: "2026-12-01" }],
      until: "2026-02-30",
    };
    const { status, said } = await ask("POST", "/api/told-people/preview", {
      of: DESK,
      sites: null,
      change: wrong,
    });
    expect(status).toBe(400);
    expect(said.error.fields.map((one) => (one as { field: string }).field)).toEqual([
      "body.change.reads",
      "body.change.until",
      "body.change.awayAdded.0",
    ]);
  });

  it("keep messages from a person who is away, as long as somebody else is there", async () => {
    const today = { awayAdded: [{ from: "2026-11-25", to: "2026-11-25" }] };
    const seen = await ask("POST", "/api/told-people/preview", { of: OWNER, sites: null, change: today });
    await ask("POST", "/api/told-people/apply", {
      of: OWNER,
      sites: null,
      change: today,
      seen: seen.said.seen,
    });
    const fault = {
      array: "A1",
      device: "INV1",
      at: now,
      kind: "earth-fault-bit",
      value: true,
      unit: "bit",
    } as const;
    await desk.watch.accept([{ ...fault, site: "creamery", quality: "good", source: "test", key: "k" }]);
    await deliver();
    expect([...handed.keys()].sort()).toEqual(["faults@example.org", "weekend@example.org"]);
    expect((await ask("GET", "/api/told-people?only=away")).said).toMatchObject({ found: 1, away: 1 });
  });
});

describe("an address that reaches nobody", () => {
  beforeEach(async () => {
    refuses.add("creamery@example.net");
    await ask("POST", "/api/sites/creamery/paths/P1/drills", {});
    await deliver();
  });

  it("stands first, with what the mail server said, and is told about as a silent path", async () => {
    const { said } = await ask("GET", "/api/told-people");
    expect(said).toMatchObject({ broken: 1 });
    expect(said.people[0]).toMatchObject({
      ids: ["owner"],
      message: { state: "refused" },
      ways: [{ broken: { sinceAt: now, reason: REFUSED.reason } }],
    });
    expect(await silentAbout("owner")).toEqual(["active"]);
  });

  it("is replaced in the files where it stands; its alarm clears, and the old one is kept as broken no longer", async () => {
    const address = { channel: "email", from: "creamery@example.net", to: "dairy@example.net" };
    const body = { of: OWNER, sites: null, change: { address } };
    const seen = await ask("POST", "/api/told-people/preview", body);
    expect(seen.said.sites).toMatchObject([
      { site: "creamery", changes: [{ what: "address", now: "dairy@example.net" }] },
    ]);
    await ask("POST", "/api/told-people/apply", { ...body, seen: seen.said.seen });
    await desk.watch.look();
    expect(inFolder("creamery")).toContain("    address: {email: dairy@example.net}\n");
    expect(await silentAbout("owner")).toEqual(["clear"]);
    expect((await ask("GET", "/api/told-people")).said).toMatchObject({ broken: 0, unnamed: [] });
  });

  it("is named as at fault in the file where the new one is none", async () => {
    const address = { channel: "email", from: "creamery@example.net", to: "dairy" };
    const { status, said } = await ask("POST", "/api/told-people/preview", {
      of: OWNER,
      sites: null,
      change: { address },
    });
    expect(status).toBe(422);
    expect(said.error.faults).toMatchObject([
      { file: "creamery.yaml", field: "people[0].address.email", value: "dairy" },
    ]);
  });

  it("stays broken after a test that is refused, and works again after one that is taken, each on record", async () => {
    const way = { of: OWNER, channel: "email", address: "creamery@example.net" };
    expect((await ask("POST", "/api/told-people/tests", way)).said).toMatchObject({
      outcome: "refused",
      mended: false,
    });
    expect((await personSaid("creamery@")).ways[0]!.broken).not.toBeNull();
    refuses.clear();
    expect((await ask("POST", "/api/told-people/tests", way)).said).toMatchObject({
      outcome: "accepted",
      mended: true,
    });
    await desk.watch.look();
    expect((await personSaid("creamery@")).ways[0]!.broken).toBeNull();
    expect(await silentAbout("owner")).toEqual(["clear"]);
    const rows = await journalAfter(desk.store.db, 0, 1000);
    expect(
      rows.filter(({ by, subject }) => by === "Ann Lee" && subject === "test").map(({ text }) => text),
    ).toEqual([
      `Test by email to creamery@example.net: refused, ${REFUSED.reason}`,
      "Test by email to creamery@example.net: accepted, 250 taken",
    ]);
  });

  it("is tried only where it stands in a file: nobody sends tests to whom they like", async () => {
    const way = { of: OWNER, channel: "email", address: "elsewhere@example.net" };
    handed.clear();
    expect((await ask("POST", "/api/told-people/tests", way)).status).toBe(404);
    expect(handed.size).toBe(0);
  });
});
