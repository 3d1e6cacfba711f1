import { describe, expect, it } from "vitest";
import { DAY, HOUR, MINUTE, readingOf, siteText, smallDesk, type SmallDesk, T } from "./desk.fixture.ts";

async function tarn(...options: Parameters<typeof smallDesk>): Promise<SmallDesk> {
  const desk = await smallDesk(...options);
  await desk.watch.start();
  await desk.watch.putSite(siteText(), "Kim");
  return desk;
}

const told = (desk: SmallDesk) => desk.sent.map(({ kind, person }) => `${kind} ${person}`);

async function caseId(desk: SmallDesk): Promise<string> {
  const rows = await desk.store.db.selectFrom("fault_case").select("id").orderBy("opened_at").execute();
  return rows.at(-1)!.id;
}

function tokenOf(desk: SmallDesk, place = -1): string {
  return desk.sent.at(place)!.acknowledgeUrl!.split("/").at(-1)!;
}

describe("a fault", () => {
  it("opens a case and is told in the transaction of its reading", async () => {
    const desk = await tarn();
    await desk.read("earth-fault-bit", true);
    await desk.deliver();
    expect(told(desk)).toEqual(["first ann"]);
    expect(desk.sent[0]).toMatchObject({ matter: await caseId(desk), site: "tarn", sequence: 1 });
    expect(desk.sent[0]!.acknowledgeUrl).toMatch(/^https:\/\/desk\.example\/a\/eb_[\w-]{43}$/u);
    expect(await desk.store.checkSound()).toEqual({ sound: true, problems: [] });
  });

  it("is repeated by the hour until somebody acknowledges, then told as cleared", async () => {
    const desk = await tarn();
    await desk.read("earth-fault-bit", true);
    await desk.wait(2 * HOUR + MINUTE);
    expect(told(desk)).toEqual(["first ann", "repeat ann", "repeat ann"]);
    expect(await desk.watch.acknowledge(await caseId(desk), "ann")).toMatchObject({ ok: true });
    await desk.wait(5 * HOUR);
    expect(told(desk)).toHaveLength(3);
    await desk.read("earth-fault-bit", false);
    await desk.wait(HOUR);
    expect(told(desk).slice(3)).toEqual(["cleared ann"]);
  });

  it("reported twice with the same key is taken once, even after it has cleared", async () => {
    const desk = await tarn();
    const again = { key: "fault 1", at: desk.clock.at };
    expect(await desk.read("earth-fault-bit", true, again)).toMatchObject({ taken: 1, known: 0 });
    desk.clock.at += MINUTE;
    await desk.read("earth-fault-bit", false);
    desk.clock.at += MINUTE;
    expect(await desk.read("earth-fault-bit", true, again)).toMatchObject({ taken: 0, known: 1 });
    const alarms = await desk.store.db.selectFrom("alarm").select(["condition", "occurrence"]).execute();
    expect(alarms).toEqual([{ condition: "clear", occurrence: 1 }]);
  });

  it("climbs the ladder when nobody answers", async () => {
    const desk = await tarn();
    expect(await desk.watch.putLadder("tarn", "P1", [{ afterMin: 90, to: ["ben"] }], "Kim")).toMatchObject({
      ok: true,
    });
    await desk.read("earth-fault-bit", true);
    await desk.wait(91 * MINUTE);
    expect(told(desk)).toEqual(["first ann", "repeat ann", "escalation ben"]);
  });

  it("goes with its case from the first sign to the signed close", async () => {
    const desk = await tarn();
    await desk.read("insulation", 12_000);
    await desk.wait(HOUR);
    desk.clock.at += 1;
    await desk.read("insulation", 5e6);
    await desk.wait(HOUR);
    const id = await caseId(desk);
    const required = { value: 1e6, source: "IEC 62446-1", tag: "memory" } as const;
    const early = await desk.watch.stepCase(id, { type: "close", by: "Ben Roe" });
    expect(early).toMatchObject({ ok: false, refusal: { code: "CASE_NEEDS_UNMET" } });
    for (const event of [
      { type: "sign-cause", by: "Ben Roe", cause: "water in a connector", repairedAt: desk.clock.at },
      { type: "measure-insulation", by: "Ben Roe", ohms: 4e6, required },
      { type: "tell-owner", by: "Ben Roe", document: null },
      { type: "close", by: "Ben Roe" },
    ] as const)
      expect(await desk.watch.stepCase(id, event)).toMatchObject({ ok: true });
    const row = await desk.store.db.selectFrom("fault_case").selectAll().executeTakeFirstOrThrow();
    expect(row.closed_at).toBe(desk.clock.at);
    const alarm = await desk.store.db.selectFrom("alarm").select("alarm_json").executeTakeFirstOrThrow();
    expect(JSON.parse(alarm.alarm_json)).toMatchObject({ latched: false });
  });
});

describe("a reading", () => {
  it("of a site that is not known is set aside, and taken in once the site is", async () => {
    const desk = await smallDesk();
    await desk.watch.start();
    const answer = await desk.read("earth-fault-bit", true);
    expect(answer).toMatchObject({ taken: 0, setAside: [{ key: "reading 1" }] });
    await desk.watch.putSite(siteText(), "Kim");
    await desk.deliver();
    expect(told(desk)).toEqual(["first ann"]);
    expect(await desk.store.db.selectFrom("set_aside").selectAll().execute()).toEqual([]);
  });

  it("that is malformed is set aside with what is wrong, and does not hold up the others", async () => {
    const desk = await tarn();
    const good = readingOf("earth-fault-bit", true, { at: T, key: "good" });
    const bad = { ...readingOf("insulation", 5, { at: T, key: "bad" }), unit: "bit" as const };
    const answer = await desk.watch.accept([bad, good]);
    expect(answer).toMatchObject({ taken: 1, setAside: [{ key: "bad" }] });
    expect(answer.setAside[0]!.reason).toContain("READING_UNIT_WRONG");
  });

  it("that repeats a healthy bit or is a heartbeat leaves one row, insulation leaves all", async () => {
    const desk = await tarn();
    for (let n = 0; n < 5; n++) {
      desk.clock.at += MINUTE;
      await desk.read("earth-fault-bit", false);
      await desk.read("heartbeat", true);
      await desk.read("insulation", 1e6 + n);
    }
    const rows = await desk.store.db.selectFrom("reading").select("kind").execute();
    expect(rows.map(({ kind }) => kind).toSorted()).toEqual([
      "earth-fault-bit",
      ...Array<string>(5).fill("insulation"),
    ]);
    const day = await desk.store.db.selectFrom("insulation_day").selectAll().execute();
    expect(day).toMatchObject([
      { date: "2026-06-01", lowest_ohms: 1e6, highest_ohms: 1e6 + 4, morning_lowest_ohms: null },
    ]);
  });

  it("from an array that the site file does not name counts for the arrays of its device", async () => {
    const desk = await tarn();
    await desk.read("earth-fault-bit", true, { array: "renamed" });
    expect(await desk.store.db.selectFrom("alarm").select("array_id").execute()).toEqual([
      { array_id: "A1" },
    ]);
  });
});

describe("a link", () => {
  it("says what it will do without doing it, works once, and not for what came after its message", async () => {
    const desk = await tarn();
    await desk.read("earth-fault-bit", true);
    await desk.deliver();
    const token = tokenOf(desk);
    expect(await desk.watch.openLink(token)).toMatchObject({
      state: "open",
      person: "ann",
      lines: ["tarn: acknowledges earth fault reported"],
    });
    desk.clock.at += MINUTE;
    expect(await desk.watch.redeemLink(token)).toMatchObject({ ok: true });
    expect(await desk.watch.redeemLink(token)).toMatchObject({
      ok: false,
      refusal: { code: "DESK_LINK_USED" },
    });
    expect(await desk.watch.openLink(token)).toMatchObject({ state: "used", usedAt: desk.clock.at });
  });

  it("of an older occurrence does not answer for a newer one", async () => {
    const desk = await tarn();
    await desk.read("earth-fault-bit", true);
    await desk.deliver();
    const token = tokenOf(desk);
    desk.clock.at += 2 * MINUTE;
    await desk.read("earth-fault-bit", false);
    desk.clock.at += 2 * MINUTE;
    await desk.read("earth-fault-bit", true);
    expect(await desk.watch.redeemLink(token)).toMatchObject({
      ok: false,
      refusal: { code: "DESK_LINK_OUTDATED" },
    });
  });

  it("expires, is kept as a hash only, and is cut out of the message once that is sent", async () => {
    const desk = await tarn();
    await desk.read("earth-fault-bit", true);
    await desk.deliver();
    const token = tokenOf(desk);
    const everything = await Promise.all(
      (["outbox", "ack_link", "journal"] as const).map((table) =>
        desk.store.db.selectFrom(table).selectAll().execute(),
      ),
    );
    expect(JSON.stringify(everything)).not.toContain(token);
    desk.clock.at += 7 * DAY;
    expect(await desk.watch.redeemLink(token)).toMatchObject({ refusal: { code: "DESK_LINK_EXPIRED" } });
    expect(await desk.watch.openLink("never issued")).toBeNull();
  });
});

describe("a step of a person", () => {
  it("sent twice with the same key is carried out once and answered alike", async () => {
    const desk = await tarn();
    await desk.read("earth-fault-bit", true);
    const id = await caseId(desk);
    const remark = { type: "remark", by: "Ben Roe", text: "on my way" } as const;
    const first = await desk.watch.stepCase(id, remark, { requestKey: "r1" });
    expect(await desk.watch.stepCase(id, remark, { requestKey: "r1" })).toEqual(first);
    const row = await desk.store.db.selectFrom("fault_case").select("case_json").executeTakeFirstOrThrow();
    expect(row.case_json.match(/on my way/gu)).toHaveLength(1);
  });

  it("keeps an alarm on the shelf no longer than to the next sunrise, and tells when that is over", async () => {
    const desk = await tarn();
    await desk.read("earth-fault-bit", true);
    await desk.deliver();
    const { id } = await desk.store.db.selectFrom("alarm").select("id").executeTakeFirstOrThrow();
    const shelve = { type: "shelve", by: "Ben Roe", reason: "wet", untilAt: T + 20 * HOUR } as const;
    expect(await desk.watch.stepAlarm(id, shelve)).toMatchObject({
      refusal: { code: "ALARM_SHELF_TOO_LONG" },
    });
    expect(await desk.watch.stepAlarm(id, { ...shelve, untilAt: T + 10 * HOUR })).toMatchObject({ ok: true });
    await desk.wait(10 * HOUR - MINUTE);
    expect(told(desk)).toEqual(["first ann"]);
    await desk.wait(2 * MINUTE);
    expect(told(desk)).toEqual(["first ann", "repeat ann"]);
  });

  it("on something that is not there is refused with a code", async () => {
    const desk = await tarn();
    const code = "DESK_MATTER_UNKNOWN";
    expect(await desk.watch.acknowledge("C9", "ann")).toMatchObject({ ok: false, refusal: { code } });
  });
});
