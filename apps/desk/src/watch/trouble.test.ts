import { describe, expect, it } from "vitest";
import { DAY, HOUR, MINUTE, readingOf, siteText, smallDesk, type SmallDesk, T } from "./desk.fixture.ts";

async function tarn(...options: Parameters<typeof smallDesk>): Promise<SmallDesk> {
  const desk = await smallDesk(...options);
  await desk.watch.start();
  await desk.watch.putSite(siteText().replace("to: [ann]", "to: [ann, ben]"), "Kim");
  return desk;
}

const told = (desk: SmallDesk) => desk.sent.map(({ kind, person }) => `${kind} ${person}`);

describe("a recipient whose address refuses messages", () => {
  it("is told to the others, and told again once the address is mended", async () => {
    let refuses = true;
    const desk = await tarn({}, ({ person }) =>
      refuses && person === "ann"
        ? { outcome: "refused", reason: "no such mailbox" }
        : { outcome: "accepted", reply: "250" },
    );
    await desk.read("earth-fault-bit", true);
    await desk.wait(MINUTE);
    expect(told(desk)).toEqual(["first ben", "first ben"]);
    const matters = desk.sent.map(({ matter }) => matter);
    expect(matters[1]).toBe("tarn:path:P1:path-silent:ann");
    refuses = false;
    expect(await desk.watch.mendWay({ channel: "email", address: "ann@example.org" }, "Kim")).toMatchObject({
      ok: true,
    });
    await desk.wait(HOUR);
    expect(told(desk)).toContain("first ann");
  });

  it("is tried for an hour where the mail server does not answer, then counts as broken and is still tried", async () => {
    const desk = await tarn({}, ({ person }) =>
      person === "ann" ? { outcome: "later", reason: "no answer" } : { outcome: "accepted", reply: "250" },
    );
    await desk.read("earth-fault-bit", true);
    const broken = () => desk.store.db.selectFrom("broken_way").selectAll().execute();
    for (let minutes = 0; minutes < 59; minutes++) await desk.wait(MINUTE);
    expect(await broken()).toEqual([]);
    for (let minutes = 0; minutes < 30; minutes++) await desk.wait(MINUTE);
    expect(await broken()).toMatchObject([{ address: "ann@example.org" }]);
    const row = await desk.store.db
      .selectFrom("outbox")
      .selectAll()
      .where("person", "=", "ann")
      .where("matter", "=", "C1")
      .executeTakeFirstOrThrow();
    expect(row.state).toBe("waiting");
    expect(row.due_at - desk.clock.at).toBeLessThanOrEqual(15 * MINUTE);
  });
});

describe("a mail server that is down for six hours", () => {
  it("has everybody told of every fault within a quarter of an hour of its return, each once", async () => {
    let down = true;
    const desk = await tarn({}, () =>
      down ? { outcome: "later", reason: "no answer" } : { outcome: "accepted", reply: "250" },
    );
    await desk.watch.putSite(siteText("fell"), "Kim");
    await desk.read("earth-fault-bit", true);
    await desk.wait(3 * HOUR);
    await desk.read("earth-fault-bit", true, { site: "fell", key: "later that day" });
    await desk.wait(3 * HOUR);
    const refused = desk.sent.length;
    down = false;
    for (let minutes = 0; minutes < 16; minutes++) await desk.wait(MINUTE);
    const arrived = desk.sent.slice(refused);
    const firsts = arrived.filter(({ kind, matter }) => kind === "first" && matter.startsWith("C"));
    expect(firsts.map(({ site, person }) => `${person} of ${site}`).toSorted()).toEqual([
      "ann of fell",
      "ann of tarn",
      "ben of tarn",
    ]);
    expect(new Set(arrived.map(({ key }) => key)).size).toBe(arrived.length);
    expect((await desk.store.checkSound()).problems).toEqual([]);
  });
});

describe("a path that falls silent", () => {
  it("is told after its interval and its grace, and told as back when it is heard", async () => {
    const desk = await tarn();
    await desk.read("heartbeat", true);
    // One day, and a tenth of it: 26 h 24 min. The morning's check is missed on the way.
    await desk.wait(DAY + 144 * MINUTE - MINUTE);
    const about = () =>
      desk.sent.filter(({ matter }) => matter.includes("path-silent")).map(({ kind }) => kind);
    expect(about()).toEqual([]);
    await desk.wait(2 * MINUTE);
    expect(about()).toEqual(["first", "first"]);
    await desk.read("heartbeat", true);
    await desk.wait(HOUR);
    expect(about()).toEqual(["first", "first", "cleared", "cleared"]);
  });
});

describe("a start", () => {
  it("after an unclean stop tells the keepers, and does not take for silence what could not be heard", async () => {
    const desk = await tarn();
    await desk.read("heartbeat", true);
    await desk.wait(MINUTE);
    const anew = await smallDesk({ store: desk.store });
    anew.clock.at = T + 3 * DAY;
    expect(await anew.watch.start()).toMatchObject({ clean: false, silentSinceAt: desk.clock.at - MINUTE });
    await anew.wait(HOUR);
    expect(anew.sent.filter(({ person }) => person === "kim").map(({ subject }) => subject)).toEqual([
      "unclean-stop desk",
    ]);
    expect(anew.sent.some(({ matter }) => matter.includes("path-silent"))).toBe(false);
    await anew.wait(2 * DAY);
    expect(anew.sent.some(({ matter }) => matter.includes("path-silent"))).toBe(true);
  });

  it("after a stop in order says nothing", async () => {
    const desk = await tarn();
    await desk.watch.look();
    await desk.watch.stop();
    const anew = await smallDesk({ store: desk.store });
    expect(await anew.watch.start()).toMatchObject({ clean: true });
    await anew.wait(MINUTE);
    expect(anew.sent).toEqual([]);
  });
});

describe("a clock that goes back", () => {
  it("holds no repeat back for as long as it takes to catch up", async () => {
    const desk = await tarn();
    await desk.read("earth-fault-bit", true);
    await desk.wait(5 * MINUTE);
    desk.clock.at += 10 * HOUR;
    await desk.watch.look();
    await desk.deliver();
    const before = desk.sent.length;
    desk.clock.at = T + 10 * MINUTE;
    await desk.wait(2 * HOUR);
    const after = desk.sent.slice(before);
    expect(after.some(({ person, subject }) => person === "kim" && subject === "notice desk")).toBe(true);
    expect(after.filter(({ person, kind }) => person === "ann" && kind === "repeat").length).toBeGreaterThan(
      1,
    );
    const { nextLookAt } = await desk.watch.look();
    expect(nextLookAt! - desk.clock.at).toBeLessThanOrEqual(HOUR);
  });

  it("does not keep a person from acknowledging", async () => {
    const desk = await tarn();
    await desk.read("earth-fault-bit", true);
    desk.clock.at -= HOUR;
    expect(await desk.watch.acknowledge("C1", "ann")).toMatchObject({ ok: true });
  });
});

describe("a storm", () => {
  it("of many sites is told in few messages that cover every site", async () => {
    const desk = await smallDesk();
    await desk.watch.start();
    for (let n = 0; n < 60; n++) await desk.watch.putSite(siteText(`site-${n}`), "Kim");
    const at = desk.clock.at;
    for (let n = 0; n < 60; n++)
      await desk.watch.accept([readingOf("earth-fault-bit", true, { site: `site-${n}`, at, key: `k${n}` })]);
    await desk.wait(MINUTE);
    expect(desk.sent.length).toBeLessThanOrEqual(20);
    const deliveries = await desk.store.db.selectFrom("delivery").select("matter").execute();
    expect(new Set(deliveries.map(({ matter }) => matter)).size).toBe(60);
    const group = desk.sent.find(({ subject }) => subject.startsWith("storm"))!;
    const token = group.acknowledgeUrl!.split("/").at(-1)!;
    expect(await desk.watch.redeemLink(token)).toMatchObject({ ok: true });
    await desk.wait(HOUR + MINUTE);
    const repeated = await desk.store.db
      .selectFrom("delivery")
      .select("matter")
      .where("kind", "=", "repeat")
      .execute();
    // The sites of the acknowledged message are quiet, the others are not.
    expect(repeated.length).toBeGreaterThan(0);
    expect(repeated.length).toBeLessThan(60);
    expect(await desk.store.checkSound()).toEqual({ sound: true, problems: [] });
  });
});

describe("a drill", () => {
  it("on demand is passed when everybody answers, by link or by name", async () => {
    const desk = await tarn();
    const begun = await desk.watch.startDrill("tarn", "P1", "Kim");
    expect(begun).toMatchObject({ ok: true, drill: "D1" });
    await desk.deliver();
    expect(told(desk)).toEqual(["drill ann", "drill ben"]);
    desk.clock.at += 5 * MINUTE;
    const token = desk.sent[0]!.acknowledgeUrl!.split("/").at(-1)!;
    expect(await desk.watch.openLink(token)).toMatchObject({ lines: ["tarn: answers drill D1"] });
    expect(await desk.watch.redeemLink(token)).toMatchObject({ ok: true });
    expect(await desk.watch.acknowledge("D1", "ben")).toMatchObject({ ok: true });
    const row = await desk.store.db.selectFrom("drill").selectAll().executeTakeFirstOrThrow();
    expect(row).toMatchObject({ outcome: "passed", ended_at: desk.clock.at });
  });

  it("that is missed is told to the keepers, and a planned one is held again a week later", async () => {
    const desk = await tarn();
    await desk.watch.planDrill("tarn", "P1", T + HOUR, "Kim");
    await desk.wait(2 * DAY);
    const kim = desk.sent.filter(({ person }) => person === "kim");
    expect(kim.map(({ subject }) => subject)).toEqual(["notice tarn"]);
    await desk.wait(6 * DAY);
    const drills = await desk.store.db
      .selectFrom("drill")
      .select(["started_at", "outcome"])
      .orderBy("id")
      .execute();
    expect(drills.map(({ started_at }) => started_at)).toEqual([T + HOUR, T + HOUR + 7 * DAY]);
  });

  it("that one person missed raises an alarm about that person, until the person answers one", async () => {
    const desk = await tarn();
    const active = () =>
      desk.store.db
        .selectFrom("alarm")
        .select(["sign", "person"])
        .where("condition", "=", "active")
        .execute();
    await desk.watch.startDrill("tarn", "P1", "Kim");
    await desk.watch.acknowledge("D1", "ann");
    await desk.wait(DAY + HOUR);
    const missed = { sign: "drill-missed", person: "ben" };
    expect((await active()).filter(({ sign }) => sign === "drill-missed")).toEqual([missed]);
    expect(desk.sent.some(({ matter }) => matter === "tarn:path:P1:drill-missed:ben")).toBe(true);
    await desk.watch.startDrill("tarn", "P1", "Kim");
    await desk.watch.acknowledge("D2", "ann");
    await desk.watch.acknowledge("D2", "ben");
    expect((await active()).filter(({ sign }) => sign === "drill-missed")).toEqual([]);
    expect((await desk.store.checkSound()).problems).toEqual([]);
  });

  it("about somebody who is taken off the path says nothing more", async () => {
    const desk = await tarn();
    await desk.watch.startDrill("tarn", "P1", "Kim");
    await desk.watch.acknowledge("D1", "ann");
    await desk.wait(DAY + HOUR);
    await desk.watch.putSite(siteText(), "Kim");
    const row = desk.store.db.selectFrom("alarm").select("condition").where("sign", "=", "drill-missed");
    expect(await row.execute()).toEqual([{ condition: "clear" }]);
  });

  it("that a device begins by simulating a fault is told as a drill and raises no alarm", async () => {
    const desk = await tarn();
    const reading = readingOf("earth-fault-bit", true, { at: T, key: "simulated" });
    expect(await desk.watch.rehearse([reading], "Kim")).toMatchObject({ ok: true, drills: ["D1"] });
    await desk.deliver();
    expect(told(desk)).toEqual(["drill ann", "drill ben"]);
    expect(await desk.store.db.selectFrom("alarm").selectAll().execute()).toEqual([]);
    const row = await desk.store.db.selectFrom("drill").select("reading_key").executeTakeFirstOrThrow();
    expect(row.reading_key).toBe("simulated");
    const healthy = readingOf("earth-fault-bit", false, { at: T, key: "healthy" });
    expect(await desk.watch.rehearse([healthy], "Kim")).toMatchObject({
      refusal: { code: "DESK_REHEARSAL_NO_FAULT" },
    });
  });
});

describe("a site file", () => {
  it("put in again as it is changes nothing; without a path to anybody a fault is told to the keepers", async () => {
    const desk = await smallDesk();
    await desk.watch.start();
    const lonely = siteText().replace(/paths:\n.*\n/u, "");
    expect(await desk.watch.putSite(lonely, "Kim")).toMatchObject({ revision: 1, unchanged: false });
    expect(await desk.watch.putSite(lonely, "Kim")).toMatchObject({ revision: 1, unchanged: true });
    await desk.read("earth-fault-bit", true);
    await desk.wait(HOUR);
    expect(desk.sent.map(({ person, subject }) => `${person} ${subject}`)).toEqual(["kim notice tarn"]);
    expect(await desk.watch.putSite(siteText(), "Kim")).toMatchObject({ revision: 2 });
    await desk.deliver();
    expect(told(desk)).toContain("first ann");
  });

  it("with faults is refused with all of them", async () => {
    const desk = await smallDesk();
    const put = await desk.watch.putSite("format: earthbell.site/1\nsite: {id: tarn}\n", "Kim");
    expect(put).toMatchObject({ ok: false });
    expect((put as { readonly faults: readonly unknown[] }).faults.length).toBeGreaterThan(1);
  });

  it("that is removed ends the watch and keeps the record", async () => {
    const desk = await tarn();
    await desk.read("earth-fault-bit", true);
    await desk.deliver();
    expect(await desk.watch.removeSite("tarn", "Kim")).toMatchObject({ ok: true });
    await desk.wait(DAY);
    expect(told(desk)).toEqual(["first ann", "first ben"]);
    expect(await desk.store.db.selectFrom("fault_case").selectAll().execute()).toHaveLength(1);
  });
});
