import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { appendJournal } from "../store/index.ts";
import { makePersonToken } from "./make-token.ts";
import { DAWN, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

let desk: ServedDesk;
let person: string;
beforeEach(async () => {
  desk = await servedDesk(() => DAWN);
  person = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: DAWN });
  const row = (n: number) => ({
    at: DAWN + n,
    kind: n % 2 === 0 ? "case" : "site",
    site: n < 3 ? "tarn" : "fell",
    subject: `C${n}`,
    by: n % 3 === 0 ? "Ann Lee" : "Ben Roe",
    text: n === 4 ? "took 100% of_it" : `step ${n}`,
  });
  await desk.store.amend((tx) =>
    appendJournal(
      tx,
      Array.from({ length: 6 }, (_, n) => row(n)),
    ),
  );
});
afterEach(() => desk.close());

async function ask<Said>(url: string): Promise<Said> {
  const reply = await desk.app.inject({ method: "GET", url, headers: { authorization: `Bearer ${person}` } });
  return reply.json<Said>();
}
const subjects = async (query: string): Promise<readonly string[]> =>
  (await ask<readonly { subject: string }[]>(`/api/journal/rows?${query}`)).map(({ subject }) => subject);

const between = { at: DAWN + 9, kind: "case", site: "tarn", subject: "C9", by: null, text: "came between" };

/** What a stream says until something is among it. */
async function listen(url: string, until: RegExp, headers: Record<string, string> = {}): Promise<string> {
  const stream = await fetch(url, { headers: { authorization: `Bearer ${person}`, ...headers } });
  const reader = stream.body!.pipeThrough(new TextDecoderStream()).getReader();
  let heard = "";
  for (let more = true; more && !until.test(heard); ) {
    const { done, value } = await reader.read();
    more = !done;
    heard += value ?? "";
  }
  await reader.cancel();
  return heard;
}

describe("an answer", () => {
  it("says from where to listen, so that nothing between it and the stream is missed", async () => {
    const headers = { authorization: `Bearer ${person}` };
    const answer = await desk.app.inject({ method: "GET", url: "/api/cases", headers });
    const from = String(answer.headers["earthbell-journal"]);
    await desk.store.amend((tx) => appendJournal(tx, [between]));
    const url = await desk.app.listen({ port: 0, host: "127.0.0.1" });
    const heard = await listen(`${url}/api/live?after=${from}`, /^data: \{.*$/mu);
    expect(/^data: (\{.*)$/mu.exec(heard)?.[1]).toContain('"subject":"C9"');
    expect(heard).not.toContain('"subject":"C5"');
  });

  it("is followed by a stream that says at once how far the journal is, for whoever loses it before anything happens", async () => {
    const url = await desk.app.listen({ port: 0, host: "127.0.0.1" });
    const first = await listen(`${url}/api/live`, /^id: \d+$/mu);
    const heardTo = /^id: (\d+)$/mu.exec(first)![1]!;
    expect(first).not.toContain('"subject"');
    await desk.store.amend((tx) => appendJournal(tx, [between]));
    const again = await listen(`${url}/api/live`, /^data: \{.*$/mu, { "last-event-id": heardTo });
    expect(/^data: (\{.*)$/mu.exec(again)?.[1]).toContain('"subject":"C9"');
  });

  it("is followed by a stream from now on where a page has heard more than the journal holds, as of a store put back", async () => {
    const url = await desk.app.listen({ port: 0, host: "127.0.0.1" });
    const [newest] = await ask<readonly { sequence: number }[]>("/api/journal/rows?limit=1");
    const said = await listen(`${url}/api/live?after=1000`, /^id: \d+$/mu);
    expect(/^id: (\d+)$/mu.exec(said)?.[1]).toBe(String(newest!.sequence));
  });

  it("does not hold up a desk that is to stop, though a page goes on listening", async () => {
    const url = await desk.app.listen({ port: 0, host: "127.0.0.1" });
    const stream = await fetch(`${url}/api/live`, { headers: { authorization: `Bearer ${person}` } });
    const reader = stream.body!.getReader();
    await reader.read();
    await desk.app.close();
    while (!(await reader.read()).done);
  });

  it("to somebody unknown says nothing of the journal", async () => {
    const answer = await desk.app.inject({ method: "GET", url: "/api/cases" });
    expect([answer.statusCode, answer.headers["earthbell-journal"]]).toEqual([401, undefined]);
  });
});

describe("the journal", () => {
  it.each([
    ["limit=2", ["C5", "C4"]],
    ["by=Ann%20Lee", ["C3", "C0"]],
    ["kind=case", ["C4", "C2", "C0"]],
    ["site=tarn&kind=site", ["C1"]],
    ["holds=STEP%205", ["C5"]],
    // What a database takes for any text is meant as it stands.
    ["holds=100%25", ["C4"]],
    ["holds=of_it", ["C4"]],
    ["holds=o%25t", []],
  ])("is looked through by %s", async (query, found) => {
    expect(await subjects(query)).toEqual(found);
  });

  it("goes on before a row", async () => {
    const rows = await ask<readonly { sequence: number }[]>("/api/journal/rows?limit=3");
    expect(await subjects(`limit=2&before=${rows.at(-1)!.sequence}`)).toEqual(["C2", "C1"]);
  });

  it("says whether its chain holds, and from which row on it does not", async () => {
    expect(await ask("/api/journal/check")).toMatchObject({ holds: true, brokenAt: null });
    const { sequence } = await desk.store.db
      .selectFrom("journal")
      .select("sequence")
      .where("subject", "=", "C2")
      .executeTakeFirstOrThrow();
    await desk.store.amend((tx) =>
      tx.updateTable("journal").set({ by: "Somebody Else" }).where("sequence", "=", sequence).execute(),
    );
    expect(await ask("/api/journal/check")).toMatchObject({ holds: false, brokenAt: sequence });
  });
});
