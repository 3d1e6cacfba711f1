import { describeReading, locate, type Reading, type Visit } from "@earthbell/engine";
import { readVisit } from "@earthbell/model";
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { makePersonToken } from "./make-token.ts";
import { CREAMERY, DAWN, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

const MINUTE = 60_000;
const PNG = Buffer.from("89504e470d0a1a0a0000000d49484452", "hex");
/** The demonstration's visit to the ferry shed before anything was opened; here its readings stand for another array. */
const VISIT = visitOf("ferry-shed-2026-09-07-before.yaml");

function visitOf(name: string): Visit {
  const read = readVisit(readFileSync(new URL(`../../../../demo/visits/${name}`, import.meta.url)), name);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.record;
}

let now: number;
let desk: ServedDesk;
let ann: string;
let ben: string;

beforeEach(async () => {
  now = DAWN;
  desk = await servedDesk(() => now);
  ann = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: DAWN });
  ben = await makePersonToken(desk.store, "Ben Orr", { by: "test", at: DAWN });
  await ask("PUT", "/api/sites/creamery", CREAMERY);
});
afterEach(() => desk.close());

async function ask(method: "GET" | "POST" | "PUT", url: string, body?: unknown, by = ann) {
  const raw = typeof body === "string" || body instanceof Buffer;
  const type = body instanceof Buffer ? "image/png" : raw ? "text/yaml" : "application/json";
  const reply = await desk.app.inject({
    method,
    url,
    headers: { authorization: `Bearer ${by}`, ...(body === undefined ? {} : { "content-type": type }) },
    ...(body === undefined ? {} : { payload: raw ? body : JSON.stringify(body) }),
  });
  const json = reply.headers["content-type"]?.toString().includes("json") ?? false;
  return { status: reply.statusCode, said: (json ? reply.json<unknown>() : {}) as never, text: reply.body };
}

async function say(value: boolean): Promise<void> {
  const of = { array: "A1", device: "INV1", at: now, kind: "earth-fault-bit", value, unit: "bit" };
  await ask("POST", "/api/push/readings?site=creamery", { readings: [of] });
}

async function openCase(): Promise<string> {
  await say(true);
  const { said } = await ask("GET", "/api/cases");
  return (said as readonly { id: string }[])[0]!.id;
}

const step = (id: string, body: object) => ask("POST", `/api/cases/${id}/steps`, body);
const { readings, ...rest } = VISIT;
const setUp = {
  ...rest,
  instruments: [...rest.instruments, { name: "tester", kind: "insulation-tester" }],
  readings: [],
};
let n = 0;
const entry = (writer: string, body: object) => ({
  writer,
  id: `${writer}-${++n}`,
  n,
  at: now,
  by: null,
  ...body,
});
const reading = (writer: string, one: Reading, seen: readonly string[] = []) =>
  entry(writer, { kind: "reading", reading: one, seen, recorded: [] });
const hand = (visit: string, of: string | null, entries: readonly object[], by = ann) =>
  ask(
    "POST",
    `/api/visits/${visit}/entries`,
    {
      beginning: { title: "Roof, string S2", site: "creamery", case: of, begunAt: DAWN + 60 * MINUTE, setUp },
      entries,
    },
    by,
  );
const issue = (body: object) =>
  ask("POST", "/api/papers", { kind: "fault-report", site: "creamery", formats: ["html"], ...body });

/** The report as its reader sees it: days are kept together by a mark of their own. */
async function html(body: object): Promise<string> {
  const made = await issue(body);
  const [file] = (made.said as { files: string[] }).files;
  const { text } = await ask("GET", `/api/papers/files/${encodeURIComponent(file!)}`);
  return text.replace(/<span class="whole">([^<]+)<\/span>/gu, "$1").replaceAll("\u00a0", " ");
}

async function stands(): Promise<readonly { number: string; state: string | null }[]> {
  const { said } = await ask("GET", "/api/sites/creamery/papers");
  return (said as { kind: string; number: string; state: string | null }[])
    .filter(({ kind }) => kind === "fault-report")
    .map(({ number, state }) => ({ number, state }));
}

/** A case from its first sign to its close: acknowledged, found by two people, mended, measured, told, closed. */
async function closedCase(): Promise<string> {
  const id = await openCase();
  now += 10 * MINUTE;
  await step(id, { step: "acknowledge" });
  now = DAWN + 61 * MINUTE;
  await hand(
    "v-0001",
    id,
    readings.map((one) => reading("phone-a", one)),
  );
  await hand("v-0001", id, [entry("phone-a", { kind: "found", text: "one fault near junction 7" })]);
  await ask("PUT", `/api/visits/v-0001/photos/photo-1?name=clip.png&takenAt=${now}`, PNG);
  now += 60 * MINUTE;
  await say(false);
  await step(id, { step: "sign-cause", cause: "salt water in a connector of S2", repairedAt: now });
  now += MINUTE;
  const tester = {
    kind: "insulation",
    with: "tester",
    on: "S2",
    from: "shorted",
    to: "earth",
    testVoltage: 500,
  } as const;
  await hand("v-0001", id, [reading("phone-a", { ...tester, value: 20e6 } as Reading)]);
  const required = { value: 1e6, source: "IEC 62446-1, table of the insulation test", tag: "memory" };
  await step(id, { step: "measure-insulation", ohms: 20e6, required });
  await step(id, { step: "tell-owner", document: "owner-notice creamery, revision 1" });
  const closed = await step(id, { step: "close" });
  expect(closed.status).toBe(200);
  return id;
}

describe("the report of a case at the desk", () => {
  it("tells the case from its alarm to its signed close, with who did what", async () => {
    const text = await html({ case: await closedCase() });
    for (const said of [
      "earth fault reported",
      // 17:00 UTC on the clock of the site, which is eleven hours ahead.
      "2026-11-25 04:00 +11:00",
      "salt water in a connector of S2",
      "20 MΩ",
      "1 MΩ",
      "IEC 62446-1, table of the insulation test",
      "It reaches what is required.",
      "owner-notice creamery, revision 1",
      "one fault near junction 7",
    ])
      expect(text).toContain(said);
    expect(text).toMatch(/From the alarm to somebody&#39;s acknowledgement<\/td><td><strong>10 min/u);
    expect(text).toMatch(/Acknowledged<\/td><td>[^<]+<\/td><td>Ann Lee/u);
    expect(text).toMatch(/last read against its sources on/u);
  });

  it("calculates from the readings that were handed over, those after the repair apart", async () => {
    const text = await html({ case: await closedCase() });
    const finding = locate(VISIT);
    expect(text).toContain(finding.because.replaceAll("'", "&#39;"));
    for (const one of readings) expect(text).toContain(describeReading(one));
    expect(text).toContain("Roof, string S2: readings of the fault");
    expect(text).toContain("Roof, string S2: readings after the repair");
  });

  it("names each photo with the digest of its picture", async () => {
    const digest = createHash("sha256").update(PNG).digest("hex");
    const text = await html({ case: await closedCase() });
    expect(text.replaceAll(" ", "")).toContain(digest);
    expect(text).toContain("clip.png");
  });

  it("shows readings that contradict each other until they are settled, and then what was passed over", async () => {
    const id = await openCase();
    const [one] = readings as [Reading];
    const [ours, theirs] = [reading("phone-a", one), reading("phone-b", { ...one, value: 640 } as Reading)];
    await hand("v-0001", id, [ours]);
    await hand("v-0001", id, [theirs], ben);
    const open = await html({ case: id });
    expect(open).toContain("contradict each other and nobody has settled it");
    expect(open).toMatch(/640\.0 V<\/td><td>Ben Orr/u);
    await hand("v-0001", id, [entry("phone-a", { kind: "choose", of: ours.id, over: [theirs.id] })]);
    const settled = await html({ case: id });
    expect(settled).not.toContain("nobody has settled it");
    expect(settled).toMatch(/640\.0 V<\/td><td>Ben Orr[^<]+passed over by Ann Lee/u);
  });

  it("is lacking once the case is closed, current when issued, and outdated by a further remark", async () => {
    const id = await closedCase();
    const number = `fault-report creamery/${id}`;
    expect(await stands()).toEqual([{ number, state: "lacking" }]);
    expect((await issue({ case: id })).said).toMatchObject({ number, revision: 1 });
    expect((await issue({ case: id })).said).toMatchObject({ again: true });
    expect(await stands()).toEqual([{ number, state: "current" }]);
    now += MINUTE;
    await step(id, { step: "remark", text: "The other string was changed as well." });
    expect(await stands()).toEqual([{ number, state: "outdated" }]);
    expect((await issue({ case: id })).said).toMatchObject({
      revision: 2,
      changed: expect.any(Number) as number,
    });
  });

  it("stays as it was when the fault comes back as another case", async () => {
    const id = await closedCase();
    await issue({ case: id });
    now += 60 * MINUTE;
    await say(true);
    await step(`C${Number(id.slice(1)) + 1}`, { step: "acknowledge" });
    const [state] = (await stands()).filter(({ number }) => number.endsWith(`/${id}`));
    // The history of a closed case says that its fault came back: that is a change, and the only one.
    const again = (await issue({ case: id })).said as { changes: readonly { what: string }[] };
    expect(state).toMatchObject({ state: "outdated" });
    expect(again.changes.every(({ what }) => what.startsWith("case timeline"))).toBe(true);
  });
});

describe("the report of a visit for no case", () => {
  it("is made from what was handed over, and ages with it", async () => {
    await hand(
      "v-0009",
      null,
      readings.map((one) => reading("phone-a", one)),
    );
    const text = await html({ visit: "v-0009" });
    expect(text).toContain("Roof, string S2");
    expect(await stands()).toEqual([{ number: "fault-report creamery/v-0009", state: "current" }]);
    await hand("v-0009", null, [entry("phone-a", { kind: "notes", text: "Salt on the rail.", seen: [] })]);
    expect(await stands()).toEqual([{ number: "fault-report creamery/v-0009", state: "outdated" }]);
    expect(await html({ visit: "v-0009" })).toContain("Salt on the rail.");
  });

  it("says why nothing is calculated from readings that do not fit the set-up", async () => {
    const [one] = readings as [Reading];
    await hand("v-0009", null, [reading("phone-a", { ...one, on: "S9" })]);
    expect(await html({ visit: "v-0009" })).toContain("S9");
  });

  it("is refused for a case or a visit of another site, and for two things at once", async () => {
    await ask("PUT", "/api/sites/mill", CREAMERY.replace("id: creamery", "id: mill"));
    const id = await openCase();
    expect((await issue({ site: "mill", case: id })).status).toBe(404);
    expect((await issue({ visit: "nowhere" })).status).toBe(404);
    expect((await issue({ case: id, visit: "v-0009" })).status).toBe(400);
  });
});
