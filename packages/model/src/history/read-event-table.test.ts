import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { EVENTS_YAML } from "../fixtures/events-file.ts";
import { malformed } from "../fixtures/malformed.ts";
import { MALFORMED_EVENTS } from "../fixtures/malformed-events.ts";
import { WRONG_EVENT_TABLES } from "./event-table.fixture.ts";
import { readEventColumns } from "./read-event-columns.ts";
import { readEventTable } from "./read-event-table.ts";

function columns(text = EVENTS_YAML) {
  const read = readEventColumns(text, "events.yaml");
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.record;
}

const HEAD = "Zeit;Nummer;Meldung;Zustand;Generator";
const log = (...rows: readonly string[]): string => [HEAD, ...rows, ""].join("\n");

describe("an event log", () => {
  it("tells of faults that begin and end, at the instants of its zone, and passes over the rest", () => {
    const text = log(
      "2026-06-01 07:12:30;301;Erdschluss;kommt;A1",
      "2026-06-01 07:13;17;Netz fehlt;kommt;",
      "2026-06-01 08:00;99;Fehlerstrom zu hoch;kommt;A2",
      "2026-06-01 09:00;302;Erdschluss quittiert;x;A1",
      "2026-06-01 10:00;99;FEHLERSTROM zu hoch;geht;",
    );
    const at = (hour: number, minute = 0, second = 0) => Date.UTC(2026, 5, 1, hour - 2, minute, second);
    expect(readEventTable(text, "log.csv", columns())).toEqual({
      ok: true,
      record: {
        events: [
          { array: "A1", at: at(7, 12, 30), kind: "earth-fault-bit", active: true, event: "301" },
          { array: "A2", at: at(8), kind: "residual-trip", active: true, event: "99" },
          { array: "A1", at: at(9), kind: "earth-fault-bit", active: false, event: "302" },
          { at: at(10), kind: "residual-trip", active: false, event: "99" },
        ],
        passedOver: 1,
      },
      warnings: [],
    });
  });

  it("without events is a night without events", () => {
    expect(readEventTable(`${HEAD}\n`, "log.csv", columns())).toMatchObject({
      ok: true,
      record: { events: [], passedOver: 0 },
    });
  });

  it.each(WRONG_EVENT_TABLES)(
    "with %s names line, field, value and what is allowed",
    (_, text, change, fault) => {
      const mapping = change === null ? EVENTS_YAML : EVENTS_YAML.replace(...change);
      expect(readEventTable(text, "log.csv", columns(mapping))).toMatchObject({
        ok: false,
        faults: [{ file: "log.csv", ...fault }],
      });
    },
  );

  it("tells all its faults at once, and not more than are worth reading", () => {
    const read = readEventTable(log(...Array.from({ length: 80 }, () => "x;301;;y;")), "log.csv", columns());
    if (read.ok) throw new Error("read");
    expect(read.faults).toHaveLength(51);
    expect(read.faults.at(-1)).toMatchObject({ code: "INPUT_FAULTS_TOO_MANY", value: "110" });
  });

  it("never makes the reader throw", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 200 }), fc.boolean(), (text, named) => {
        const table = named ? `${HEAD}\n${text}` : text;
        expect(typeof readEventTable(table, "log.csv", columns()).ok).toBe("boolean");
      }),
      { numRuns: 300 },
    );
  });
});

describe("a mapping of events", () => {
  it.each(MALFORMED_EVENTS)("points at $title with $code", (row) => {
    const { text, code, line, column, field, says = "" } = malformed(EVENTS_YAML, row);
    const result = readEventColumns(text, "events.yaml");
    if (result.ok) throw new Error("It was read without a fault");
    const fault = result.faults.find((found) => found.field === field);
    expect(fault, JSON.stringify(result.faults)).toMatchObject({ code, file: "events.yaml" });
    if (code.startsWith("INPUT")) expect(fault).toMatchObject({ line, column });
    expect(`${fault!.message} ${fault!.allowed}`).toContain(says);
  });
});
