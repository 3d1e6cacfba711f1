import { readFileSync, readdirSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { WRONG_EVENT_TABLES } from "./event-table.fixture.ts";
import { HISTORY_CODES } from "./history-codes.ts";
import { historyTableText } from "./history-table-text.ts";
import { columnsText, readColumns } from "./read-columns.ts";
import { readFleetTable } from "./read-fleet-table.ts";
import { readHistoryTable } from "./read-history-table.ts";

const readings = (text: string, columns: Parameters<typeof readHistoryTable>[2] = { names: {} }) => {
  const read = readHistoryTable(text, "t.csv", columns);
  if (!read.ok) throw new Error(read.faults.map(({ code }) => code).join());
  return read.record.arrays.flatMap((series) => series.readings);
};

describe("values", () => {
  it.each([
    ["2.5", "Ω", 2.5],
    ["2.5", "kohm", 2500],
    ["2.5", "MΩ", 2.5e6],
    ["1.2 MΩ", "kΩ", 1.2e6],
    ["800 kohm", "Ω", 8e5],
    ["1e6", "ohm", 1e6],
    ["0", "kΩ", 0],
    ["-4", "kΩ", -4000],
  ])("%s in a column in %s is %d Ω", (cell, unit, ohms) => {
    const [reading] = readings(`instant,insulation (${unit})\n2026-01-01T06:00Z,${cell}\n`);
    expect(reading?.ohms).toBeCloseTo(ohms, 6);
  });

  it.each([
    [">20 MΩ", "at-least"],
    ["≥ 20 MΩ", "at-least"],
    ["<1 kΩ", "at-most"],
    ["OL", "at-least"],
  ])("%s is a bound", (cell, bound) => {
    expect(readings(`instant,insulation (Ω)\n2026-01-01T06:00Z,${cell}\n`)[0]?.bound).toBe(bound);
  });

  it.each(["", "-", "n/a", "NaN", "null"])("%j is no reading", (cell) => {
    const text = `instant,insulation (Ω)\n2026-01-01T06:00Z,${cell}\n2026-01-02T06:00Z,5\n`;
    expect(readings(text)).toHaveLength(1);
  });

  it("reads decimal commas where they are announced", () => {
    const text = "instant;insulation (kΩ)\n2026-01-01T06:00Z;1,5\n";
    expect(readings(text, { names: {}, decimal: "comma" })[0]?.ohms).toBe(1500);
  });
});

describe("instants", () => {
  it.each([
    ["2026-11-25T06:30Z", "2026-11-25T06:30:00Z"],
    ["2026-11-25 06:30:15+02:00", "2026-11-25T04:30:15Z"],
    ["2026/11/25 06:30 -0330", "2026-11-25T10:00:00Z"],
    ["1795588200", "2026-11-25T06:30:00Z"],
    ["1795588200000", "2026-11-25T06:30:00Z"],
  ])("%s is %s", (cell, instant) => {
    const [reading] = readings(`instant,insulation (Ω)\n${cell},5\n`);
    expect(reading?.at).toBe(Date.parse(instant));
  });

  it.each([
    ["2026-11-25 06:30", "2026-11-25T05:30Z"],
    ["2026-07-01 06:30", "2026-07-01T04:30Z"],
    // The clock skips this hour, and repeats the other.
    ["2026-03-29 02:30", "2026-03-29T01:00Z"],
    ["2026-10-25 02:30", "2026-10-25T00:30Z"],
  ])("%s on the clock of Berlin is %s", (cell, instant) => {
    const [reading] = readings(`time,riso_kohm\n${cell},5\n`, { names: {}, zone: "Europe/Berlin" });
    expect(reading?.at).toBe(Date.parse(instant));
  });
});

/** Title, table, what is said about the columns, and code, line, column. */
const WRONG = [
  ["an open quote", 'instant,insulation (Ω)\n2026-01-01T06:00Z,"5\n', {}, "HISTORY_TABLE_INVALID", 2, null],
  ["names alone", "instant,insulation (Ω)\n", {}, "HISTORY_TABLE_EMPTY", null, null],
  ["only empty rows", "instant,insulation (Ω)\n2026-01-01T06:00Z,\n", {}, "HISTORY_TABLE_EMPTY", null, null],
  [
    "a cell too many",
    "instant,insulation (Ω)\n2026-01-01T06:00Z,1,5\n",
    {},
    "HISTORY_ROW_LENGTH_WRONG",
    2,
    null,
  ],
  [
    "no column of instants",
    "when,insulation (Ω)\n2026-01-01T06:00Z,1\n",
    {},
    "HISTORY_COLUMN_MISSING",
    1,
    null,
  ],
  [
    "a misspelt column",
    "when,insulation (Ω)\n2026-01-01T06:00Z,1\n",
    { names: { instant: "wen" } },
    "HISTORY_COLUMN_UNKNOWN",
    1,
    null,
  ],
  [
    "a name twice",
    "instant,riso_ohm,riso_ohm\n2026-01-01T06:00Z,1,2\n",
    {},
    "HISTORY_COLUMN_REPEATED",
    1,
    null,
  ],
  ["the day first", "instant,insulation (Ω)\n31.12.2026 06:00,1\n", {}, "HISTORY_INSTANT_INVALID", 2, 1],
  ["a day that is none", "instant,insulation (Ω)\n2026-02-30 06:00,1\n", {}, "HISTORY_INSTANT_INVALID", 2, 1],
  [
    "local times without a zone",
    "instant,insulation (Ω)\n2026-01-01 06:00,1\n",
    {},
    "HISTORY_ZONE_MISSING",
    2,
    null,
  ],
  [
    "two kinds of time",
    "instant,insulation (Ω)\n2026-01-01 06:00,1\n2026-01-02T06:00Z,1\n",
    { zone: "UTC" },
    "HISTORY_ZONE_MIXED",
    2,
    null,
  ],
  ["a word", "instant,insulation (Ω)\n2026-01-01T06:00Z,ok\n", {}, "HISTORY_VALUE_INVALID", 2, 19],
  ["a comma", "instant;insulation (Ω)\n2026-01-01T06:00Z;1,5\n", {}, "HISTORY_VALUE_INVALID", 2, 19],
  ["no unit", "instant,insulation\n2026-01-01T06:00Z,5\n", {}, "HISTORY_UNIT_MISSING", 2, 19],
  ["millohms", "instant,insulation (mΩ)\n2026-01-01T06:00Z,5\n", {}, "HISTORY_COLUMNS_INVALID", 1, null],
  [
    "no such zone",
    "instant,insulation (Ω)\n2026-01-01 06:00,1\n",
    { zone: "Moon/Tycho" },
    "HISTORY_COLUMNS_INVALID",
    null,
    null,
  ],
  [
    "a heat that is none",
    "instant,insulation (Ω),temperature\n2026-01-01T06:00Z,1,451\n",
    {},
    "HISTORY_VALUE_OUT_OF_RANGE",
    2,
    21,
  ],
] as const;

describe("wrong tables", () => {
  it.each(WRONG)("%s", (_, text, said, code, line, column) => {
    const read = readHistoryTable(text, "t.csv", { names: {}, ...said });
    expect(read).toMatchObject({ ok: false, faults: [{ code, line, column, file: "t.csv" }] });
  });

  it("tell all their faults at once, and not more than are worth reading", () => {
    const rows = Array.from({ length: 80 }, (_, i) => `x${i},ok`);
    const read = readHistoryTable(["instant,insulation (Ω)", ...rows].join("\n"), "t.csv");
    if (read.ok) throw new Error("read");
    expect(read.faults).toHaveLength(51);
    expect(read.faults.at(-1)).toMatchObject({ code: "INPUT_FAULTS_TOO_MANY", value: "110" });
  });

  it("never make the reader throw", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 200 }), fc.boolean(), (text, named) => {
        const table = named ? `instant,insulation (Ω)\n${text}` : text;
        expect(typeof readHistoryTable(table, "t.csv").ok).toBe("boolean");
      }),
      { numRuns: 300 },
    );
  });
});

describe("what is written", () => {
  it("is read back the same", () => {
    const series = [
      { array: "kirk/A1", readings: [{ at: 1.8e12, ohms: 5e6, temperatureC: -3.5, humidityPercent: 80 }] },
      { array: 'a "b", c', readings: [{ at: 1.81e12, ohms: 2e7, bound: "at-least" as const }] },
    ];
    const read = readHistoryTable(historyTableText(series), "t.csv");
    expect(read).toMatchObject({ ok: true, record: { arrays: series, empty: 0 } });
  });

  it("about columns is read back the same", () => {
    const columns = {
      names: { instant: "Zeit", insulation: "R iso" },
      unit: "kΩ",
      zone: "Europe/Berlin",
      decimal: "comma",
    } as const;
    expect(readColumns(columnsText(columns), "c.yaml")).toMatchObject({ ok: true, record: columns });
  });

  it.each([
    ["another format", "format: earthbell.site/1\n", "format"],
    ["an entry that is none", "format: earthbell.columns/1\ninstnt: Zeit\n", "instnt"],
    ["a unit that is none", "format: earthbell.columns/1\nunit: furlong\n", "unit"],
    ["a decimal sign that is none", "format: earthbell.columns/1\ndecimal: dot\n", "decimal"],
    ["a number for a name", "format: earthbell.columns/1\ninstant: 7\n", "instant"],
  ])("about columns with %s is refused", (_, text, field) => {
    expect(readColumns(text, "c.yaml")).toMatchObject({
      ok: false,
      faults: [{ code: "HISTORY_COLUMNS_INVALID", field }],
    });
  });
});

describe("what arrays are", () => {
  it("is read by array", () => {
    const read = readFleetTable("array,connector,consequence\nA1,K2,3\nA2,,\n", "f.csv", [
      "connector",
      "consequence",
    ]);
    if (!read.ok) throw new Error("refused");
    expect([...read.record]).toEqual([
      ["A1", { connector: "K2", consequence: "3" }],
      ["A2", {}],
    ]);
  });

  it.each([
    ["an unknown trait", "array,colour\nA1,red\n", "HISTORY_COLUMN_UNKNOWN"],
    ["no arrays", "connector\nK1\n", "HISTORY_COLUMN_MISSING"],
    ["no weight", "array,consequence\nA1,-2\n", "HISTORY_VALUE_INVALID"],
    ["an open quote", 'array\n"A1\n', "HISTORY_TABLE_INVALID"],
  ])("with %s is refused", (_, text, code) => {
    expect(readFleetTable(text, "f.csv", ["connector", "consequence"])).toMatchObject({
      ok: false,
      faults: [{ code }],
    });
  });
});

describe("the codes", () => {
  it("are explained, each, and each can come", () => {
    const folder = new URL("./", import.meta.url);
    const sources = readdirSync(folder)
      .filter((name) => name.endsWith(".ts") && !name.endsWith(".test.ts") && name !== "history-codes.ts")
      .map((name) => readFileSync(new URL(name, folder), "utf8"))
      .join("\n");
    const named = new Set([...sources.matchAll(/"(HISTORY_[A-Z_]+)"/gu)].map((match) => match[1]));
    expect(new Set(HISTORY_CODES.map(({ code }) => code))).toEqual(named);
    const tried = new Set<string | undefined>([
      ...WRONG.map(([, , , code]) => code),
      ...WRONG_EVENT_TABLES.map(([, , , { code }]) => code),
    ]);
    expect([...named].filter((code) => !tried.has(code))).toEqual([]);
  });
});
