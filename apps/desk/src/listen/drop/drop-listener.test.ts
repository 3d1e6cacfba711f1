import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { siteText, type SmallDesk, smallDesk, T } from "../../watch/desk.fixture.ts";
import { dropFolder } from "./drop-folder.ts";
import { DropTaker } from "./drop-listener.ts";

const INSULATION = `format: earthbell.columns/1
instant: when
insulation: Riso
unit: kΩ
zone: Australia/Melbourne
`;
const EVENTS = `format: earthbell.events/1
instant: when
event: code
zone: Australia/Melbourne
faults:
  - {event: "34", is: earth-fault-bit, change: begins}
  - {event: "35", is: earth-fault-bit, change: ends}
`;
const LOW = "when;Riso\n2026-06-01 07:30;2500\n2026-06-01 15:00;9\n";

let desk: SmallDesk;
let path: string;
const log = { info: () => undefined, warn: () => undefined, error: () => undefined };

beforeEach(async () => {
  path = mkdtempSync(join(tmpdir(), "drop-"));
  desk = await smallDesk();
  await desk.watch.start();
  await desk.watch.putSite(siteText(), "Ann Lee");
});
afterEach(async () => {
  await desk.store.close();
  rmSync(path, { recursive: true });
});

async function save(name: string, mapping_json: string): Promise<void> {
  const row = { name, mapping_json, put_at: T, put_by: "Ann Lee" };
  await desk.store.amend((tx) => tx.insertInto("column_mapping").values(row).execute());
}

function taker(mapping: string, accept = desk.watch.accept): DropTaker {
  const options = { id: "logger", mapping, settledMs: 10_000, lookEveryMs: 5000 };
  const place = { site: "tarn", device: "INV1" };
  return new DropTaker(
    { ...options, place },
    { folder: dropFolder(path), store: desk.store, accept, clock: desk.clock, log },
  );
}

const lay = (name: string, text: string | Buffer): void => {
  writeFileSync(join(path, name), text);
};

/** Looks, and looks again once everything that lies there has lain for long enough. */
async function settle(one: DropTaker): Promise<void> {
  await one.look();
  desk.clock.at += 10_000;
  await one.look();
}

const inFolder = (name = ""): string[] => {
  try {
    return readdirSync(join(path, name)).sort();
  } catch {
    return [];
  }
};
const readings = async (): Promise<number> =>
  (await desk.store.db.selectFrom("reading").select("key").execute()).length;

describe("a file of insulation readings", () => {
  it("is taken with what follows from it, moved away, and put on record", async () => {
    await save("nightly", INSULATION);
    lay("june.csv", LOW);
    await settle(taker("nightly"));
    expect(await readings()).toBe(2);
    expect(inFolder()).toEqual(["taken"]);
    expect(inFolder("taken")).toEqual([expect.stringMatching(/^june\.[0-9a-f]{8}\.csv$/u)]);
    const cases = await desk.store.db.selectFrom("fault_case").select("array_id").execute();
    expect(cases).toEqual([{ array_id: "A1" }]);
    const noted = await desk.store.db
      .selectFrom("journal")
      .select("text")
      .where("subject", "=", "folder logger")
      .execute();
    expect(noted).toEqual([{ text: "june.csv was taken: 2 readings, 0 known before, 0 rows passed over." }]);
  });

  it("is taken once, under whatever name it comes again", async () => {
    await save("nightly", INSULATION);
    const one = taker("nightly");
    lay("june.csv", LOW);
    await settle(one);
    lay("june-again.csv", LOW);
    await settle(taker("nightly"));
    expect(await readings()).toBe(2);
    expect(inFolder()).toEqual(["taken"]);
    expect(inFolder("taken")).toHaveLength(2);
    expect(await desk.store.db.selectFrom("taken_file").select("name").execute()).toEqual([
      { name: "june.csv" },
    ]);
  });

  it("is not touched while it still grows", async () => {
    await save("nightly", INSULATION);
    const one = taker("nightly");
    lay("june.csv", LOW.slice(0, 30));
    await one.look();
    for (let length = 31; length <= LOW.length; length += 9) {
      desk.clock.at += 9000;
      lay("june.csv", LOW.slice(0, length));
      await one.look();
      expect(inFolder()).toEqual(["june.csv"]);
    }
    lay("june.csv", LOW);
    await settle(one);
    expect([inFolder(), await readings()]).toEqual([["taken"], 2]);
  });

  it("is not taken for complete by a date that its writer set back", async () => {
    await save("nightly", INSULATION);
    const one = taker("nightly");
    lay("june.csv", LOW);
    utimesSync(join(path, "june.csv"), 1e9, 1e9);
    await one.look();
    expect(inFolder()).toEqual(["june.csv"]);
  });

  it.each([".june.csv", "june.csv.part", "june.csv.tmp", "~june.csv", "june.csv~"])(
    "called %s is being written, and is left alone",
    async (name) => {
      await save("nightly", INSULATION);
      lay(name, LOW);
      await settle(taker("nightly"));
      expect(inFolder()).toEqual([name]);
    },
  );

  it("with faults is refused whole, with a text that names line, field, value and what is allowed", async () => {
    await save("nightly", INSULATION);
    lay("june.csv", "when;Riso\n2026-06-01 07:30;2500\nnever;2400\n2026-06-01 08:30;much\n");
    await settle(taker("nightly"));
    expect(await readings()).toBe(0);
    const [file, errors] = inFolder("refused");
    expect(errors).toBe(`${file!}.errors.txt`);
    const text = readFileSync(join(path, "refused", errors!), "utf8");
    expect(text).toContain(
      'HISTORY_INSTANT_INVALID | line 3 | column 1 | field "when" | value "never" | allowed: ',
    );
    expect(text).toContain(
      'HISTORY_VALUE_INVALID | line 4 | column 18 | field "Riso" | value "much" | allowed: ',
    );
    expect(inFolder()).toEqual(["refused"]);
  });

  it("that is no text is refused", async () => {
    await save("nightly", INSULATION);
    lay("june.csv", Buffer.from([0xff, 0xfe, 0x00, 0x80, 0x81]));
    await settle(taker("nightly"));
    expect(inFolder("refused")).toHaveLength(2);
  });

  it("waits, and its listener is deaf, until its mapping is saved", async () => {
    const one = taker("nightly");
    lay("june.csv", LOW);
    await settle(one);
    expect(one.health()).toMatchObject({
      state: "deaf",
      unheard: 1,
      text: expect.stringContaining("No mapping nightly") as string,
    });
    await save("nightly", INSULATION);
    await settle(one);
    expect(one.health()).toMatchObject({ state: "hearing", unheard: 0 });
    expect(await readings()).toBe(2);
  });

  it("stays where it lies while the store fails, holds up no other, and is taken when it works again", async () => {
    await save("nightly", INSULATION);
    let broken = true;
    const one = taker("nightly", (batch) =>
      broken ? Promise.reject(new Error("disk full")) : desk.watch.accept(batch),
    );
    lay("june.csv", LOW);
    lay("wrong.csv", "when;Riso\nnever;1\n");
    await settle(one);
    expect([inFolder(), one.health().state]).toEqual([["june.csv", "refused"], "deaf"]);
    broken = false;
    await one.look();
    expect([await readings(), one.health().state]).toEqual([2, "hearing"]);
  });

  it("behind a link, and a folder, are none", async () => {
    await save("nightly", INSULATION);
    writeFileSync(join(path, ".secret"), LOW);
    symlinkSync(join(path, ".secret"), join(path, "link.csv"));
    mkdirSync(join(path, "more.csv"));
    await settle(taker("nightly"));
    expect(inFolder()).toEqual([".secret", "link.csv", "more.csv"]);
  });
});

describe("an event log", () => {
  it("raises the fault that began lately, and ends it", async () => {
    await save("events", EVENTS);
    const one = taker("events");
    lay("log.csv", "when,code\n2026-06-01 14:58,17\n2026-06-01 15:00,34\n");
    await settle(one);
    const alarm = () => desk.store.db.selectFrom("alarm").select(["sign", "condition"]).execute();
    expect(await alarm()).toEqual([{ sign: "earth-fault-bit", condition: "active" }]);
    lay("log2.csv", "when,code\n2026-06-01 15:00,34\n2026-06-01 15:10,35\n");
    await settle(one);
    expect(await alarm()).toEqual([{ sign: "earth-fault-bit", condition: "clear" }]);
  });
});
