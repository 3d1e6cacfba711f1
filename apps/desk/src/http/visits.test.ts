import { createHash } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { invite } from "../accounts/invitations.ts";
import { journalAfter } from "../store/index.ts";
import { makePersonToken } from "./make-token.ts";
import { CREAMERY, DAWN as NOW, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

let desk: ServedDesk;
let ann: string;
let ben: string;

beforeEach(async () => {
  desk = await servedDesk(() => NOW);
  ann = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: NOW });
  ben = await makePersonToken(desk.store, "Ben Orr", { by: "test", at: NOW });
  await ask("PUT", "/api/sites/creamery", CREAMERY);
});
afterEach(() => desk.close());

interface Said {
  readonly entries: readonly { id: string; by: string; kind: string }[];
  readonly photos: readonly { id: string; digest: string; mediaType: string; bytes: number }[];
  readonly error: { readonly code: string; readonly fields?: readonly { field: string }[] };
}

interface Sent {
  readonly by?: string;
  readonly type?: string;
  readonly headers?: Readonly<Record<string, string>>;
}

async function ask(
  method: "GET" | "POST" | "PUT",
  url: string,
  body?: unknown,
  { by = ann, type = "", headers = {} }: Sent = {},
) {
  const raw = typeof body === "string" || body instanceof Buffer;
  const asked = type === "" ? (raw ? "text/yaml" : "application/json") : type;
  const reply = await desk.app.inject({
    method,
    url,
    headers: {
      authorization: `Bearer ${by}`,
      ...(body === undefined ? {} : { "content-type": asked }),
      ...headers,
    },
    ...(body === undefined ? {} : { payload: raw ? body : JSON.stringify(body) }),
  });
  const json = reply.headers["content-type"]?.toString().includes("json") ?? false;
  return {
    status: reply.statusCode,
    said: (json ? reply.json<unknown>() : {}) as Said,
    raw: reply.rawPayload,
    headers: reply.headers,
  };
}

const beginning = {
  title: "Creamery, A1",
  site: "creamery",
  case: null as string | null,
  begunAt: NOW,
  setUp: {
    strings: [{ id: "S1", modules: 20 }],
    circuits: [],
    instruments: [{ name: "meter", kind: "voltmeter" }],
    conditions: { wet: false },
    readings: [],
    costs: {},
  },
};
const reading = (writer: string, n: number, value: number) => ({
  kind: "reading",
  id: `${writer}-${n}`,
  writer,
  n,
  at: NOW + n,
  by: null,
  reading: { kind: "voltage", with: "meter", on: "S1", from: "-", to: "earth", value },
  seen: [],
  recorded: ["licensed-person"],
});
const hand = (entries: readonly object[], by = ann, about: object = beginning) =>
  ask("POST", "/api/visits/v-0001/entries", { beginning: about, entries }, { by });

async function openCase(): Promise<string> {
  const of = { array: "A1", device: "INV1", at: NOW, kind: "earth-fault-bit", value: true, unit: "bit" };
  await ask("POST", "/api/push/readings?site=creamery", { readings: [of] });
  const { said } = await ask("GET", "/api/cases");
  return (said as unknown as readonly { id: string }[])[0]!.id;
}

describe("a visit that is handed over", () => {
  it("has each entry once however often it is sent, under the name of who sent it first", async () => {
    const [one, two, three] = [
      reading("phone-a", 1, 205),
      reading("phone-a", 2, 210),
      reading("phone-b", 1, 9),
    ];
    await hand([one, two]);
    await hand([one, two]);
    const { status, said } = await hand([two, three], ben);
    expect(status).toBe(200);
    expect(said.entries.map(({ id, by }) => [id, by]).sort()).toEqual([
      ["phone-a-1", "Ann Lee"],
      ["phone-a-2", "Ann Lee"],
      ["phone-b-1", "Ben Orr"],
    ]);
    const read = await ask("GET", "/api/visits/v-0001");
    expect(read.said).toEqual(said);
    expect(await ask("GET", "/api/visits?site=creamery")).toMatchObject({
      said: [{ id: "v-0001", entries: 3, by: "Ann Lee" }],
    });
  });

  it("sent by two at the same instant has every entry of both once", async () => {
    const batches = Array.from({ length: 8 }, (_, i) => [
      reading("phone-a", i + 1, i),
      reading("phone-b", i + 1, i),
    ]);
    await Promise.all(batches.flatMap((batch) => [hand(batch), hand(batch, ben)]));
    const { said } = await ask("GET", "/api/visits/v-0001");
    const ids = said.entries.map(({ id }) => id);
    expect([ids.length, new Set(ids).size]).toEqual([16, 16]);
  });

  it("takes in nothing of what is sent when one entry contradicts what is on record", async () => {
    await hand([reading("phone-a", 1, 205)]);
    const refused = await hand([reading("phone-a", 1, 206), reading("phone-a", 2, 210)]);
    expect(refused).toMatchObject({ status: 409, said: { error: { code: "VISIT_ENTRY_DIFFERS" } } });
    expect((await ask("GET", "/api/visits/v-0001")).said.entries).toHaveLength(1);
  });

  it("takes 5,000 entries and not one more, and still the same ones again", async () => {
    const all = Array.from({ length: 5000 }, (_, i) => reading("phone-a", i + 1, 205));
    for (let from = 0; from < all.length; from += 500)
      expect((await hand(all.slice(from, from + 500))).status).toBe(200);
    const refused = await hand([reading("phone-b", 1, 205)]);
    expect(refused).toMatchObject({ status: 409, said: { error: { code: "VISIT_FULL" } } });
    expect((await hand(all.slice(0, 2))).status).toBe(200);
  });

  it("of a site that is not watched here is refused, and nothing of it is kept", async () => {
    const refused = await hand([reading("phone-a", 1, 205)], ann, { ...beginning, site: "nowhere" });
    expect(refused).toMatchObject({ status: 404, said: { error: { code: "REQUEST_UNKNOWN" } } });
    expect((await ask("GET", "/api/visits/v-0001")).status).toBe(404);
  });

  it("cannot be moved to another site, nor name a case of another", async () => {
    await hand([]);
    const second = CREAMERY.replace("id: creamery", "id: mill");
    await ask("PUT", "/api/sites/mill", second);
    const moved = await hand([], ann, { ...beginning, site: "mill" });
    expect(moved).toMatchObject({ status: 409, said: { error: { code: "VISIT_ELSEWHERE" } } });
    const foreign = { beginning: { ...beginning, site: "mill", case: await openCase() }, entries: [] };
    const { status, said } = await ask("POST", "/api/visits/v-0002/entries", foreign);
    expect([status, said.error.fields?.map(({ field }) => field)]).toEqual([400, ["body.beginning.case"]]);
  });

  it("names every field at fault at once, and lets nobody sign for somebody else", async () => {
    const wrong = { ...reading("phone-a", 1, -1), by: "Ben Orr" };
    const { status, said } = await hand([wrong, { ...reading("phone-a", 2, 1), n: 0 }]);
    expect(status).toBe(400);
    expect(said.error.fields?.map(({ field }) => field)).toEqual([
      "body.entries.0.by",
      "body.entries.0.reading.value",
      "body.entries.1.n",
    ]);
  });

  it("is neither shown to, nor taken from, an account that is bound to another site", async () => {
    await hand([reading("phone-a", 1, 205)]);
    const token = await invite(desk.store, { role: "technician", sites: ["mill"] }, { by: "test", at: NOW });
    const joined = await desk.app.inject({
      method: "POST",
      url: `/api/join/${token}`,
      headers: { "x-earthbell-request": "1" },
      payload: { name: "Cat Moss", password: "a long enough password" },
    });
    const session = joined.cookies.find(({ name }) => name === "__Host-earthbell")!.value;
    const headers = { cookie: `__Host-earthbell=${session}`, "x-earthbell-request": "1", authorization: "" };
    expect((await ask("GET", "/api/visits/v-0001", undefined, { headers })).status).toBe(403);
    expect((await ask("GET", "/api/visits", undefined, { headers })).said).toEqual([]);
    const entries = { beginning, entries: [] };
    expect((await ask("POST", "/api/visits/v-0001/entries", entries, { headers })).status).toBe(403);
  });

  it("puts a finding on its case once, and tells in the journal who handed over what", async () => {
    const id = await openCase();
    const found = {
      kind: "found",
      id: "phone-a-9",
      writer: "phone-a",
      n: 9,
      at: NOW,
      by: null,
      text: "junction 7",
    };
    await hand([found], ann, { ...beginning, case: id });
    await hand([found], ann, { ...beginning, case: id });
    const { said } = await ask("GET", `/api/cases/${id}`);
    const lines = (said as unknown as { case: { timeline: { text: string; by: string }[] } }).case.timeline;
    expect(lines.filter(({ text }) => text.includes("junction 7")).map(({ by }) => by)).toEqual(["Ann Lee"]);
    const journal = await journalAfter(desk.store.db, 0, 1000, { subject: "v-0001" });
    expect(journal.map(({ kind, by }) => [kind, by])).toEqual([["visit", "Ann Lee"]]);
  });
});

const PNG = Buffer.from("89504e470d0a1a0a0000000d49484452", "hex");
const put = (photo: string, picture: Buffer, type = "image/png") =>
  ask("PUT", `/api/visits/v-0001/photos/${photo}?name=clip.png&takenAt=${NOW}`, picture, { type });

describe("a photo", () => {
  beforeEach(async () => {
    await hand([]);
  });

  it("is stored with its digest, once however often it is sent, and comes back as it was", async () => {
    const digest = createHash("sha256").update(PNG).digest("hex");
    expect(await put("photo-1", PNG)).toMatchObject({ status: 200, said: { digest } });
    expect((await put("photo-1", PNG)).status).toBe(200);
    const { said } = await ask("GET", "/api/visits/v-0001");
    expect(said.photos).toMatchObject([{ id: "photo-1", digest, mediaType: "image/png", bytes: PNG.length }]);
    const back = await ask("GET", "/api/visits/v-0001/photos/photo-1");
    expect([back.headers["content-type"], back.raw.equals(PNG)]).toEqual(["image/png", true]);
    expect(back.headers["content-security-policy"]).toContain("sandbox");
  });

  it("is known by its first bytes: a page that calls itself a picture is refused", async () => {
    const page = Buffer.from("<script>window.taken = 1</script>");
    expect(await put("photo-1", page, "image/jpeg")).toMatchObject({
      status: 415,
      said: { error: { code: "PHOTO_KIND_UNKNOWN" } },
    });
    expect((await put("photo-2", PNG, "image/jpeg")).status).toBe(200);
    expect((await ask("GET", "/api/visits/v-0001")).said.photos).toMatchObject([{ mediaType: "image/png" }]);
  });

  it("on record is never replaced, and one that is too large is refused", async () => {
    await put("photo-1", PNG);
    const other = Buffer.concat([PNG, Buffer.from("more")]);
    expect(await put("photo-1", other)).toMatchObject({
      status: 409,
      said: { error: { code: "PHOTO_DIFFERS" } },
    });
    const large = Buffer.concat([PNG, Buffer.alloc(20 * 2 ** 20)]);
    expect(await put("photo-3", large)).toMatchObject({
      status: 413,
      said: { error: { code: "REQUEST_TOO_LARGE" } },
    });
  });

  it("is one of at most 200 of a visit, and those on record may be sent again", async () => {
    for (let photo = 1; photo <= 200; photo++) expect((await put(`photo-${photo}`, PNG)).status).toBe(200);
    expect(await put("photo-201", PNG)).toMatchObject({
      status: 409,
      said: { error: { code: "VISIT_FULL" } },
    });
    expect((await put("photo-200", PNG)).status).toBe(200);
    expect((await ask("GET", "/api/visits/v-0001")).said.photos).toHaveLength(200);
  });

  it("of a visit that was not handed over is refused", async () => {
    const url = `/api/visits/v-0009/photos/photo-1?name=clip.png&takenAt=${NOW}`;
    expect((await ask("PUT", url, PNG, { type: "image/png" })).status).toBe(404);
  });
});
