import { describe, expect, test } from "vitest";
import { DESK_YAML } from "../fixtures/desk-file.ts";
import { malformed } from "../fixtures/malformed.ts";
import { MALFORMED_DESKS } from "../fixtures/malformed-desk.ts";
import { readDesk } from "./read-desk.ts";

describe("readDesk", () => {
  test("reads settings with every section, durations in minutes", () => {
    expect(readDesk(DESK_YAML, "desk.yaml")).toMatchObject({
      ok: true,
      record: {
        desk: { name: "Skerry co-operative", listen: { port: 8420 } },
        email: { security: "starttls", password: { env: "DESK_MAIL_PASSWORD" } },
        gateways: [
          { id: "harbour", pollEvery: 0.5, devices: [{ unit: 1 }, { ports: { 1: "A2", 2: "A3" } }] },
        ],
        ladders: [{ rungs: [{ after: 240 }] }],
        deadMan: { every: 5 },
      },
    });
  });

  test("needs nothing but a name", () => {
    const result = readDesk("format: earthbell.desk/1\ndesk: {name: Skerry}\n", "desk.yaml");
    expect(result).toEqual({ ok: true, record: { desk: { name: "Skerry" } }, warnings: [] });
  });

  test.each(MALFORMED_DESKS)("points at $title with $code", (row) => {
    const { text, code, line, column, field, says = "" } = malformed(DESK_YAML, row);
    const result = readDesk(text, "desk.yaml");
    if (result.ok) throw new Error("It was read without a fault");
    const [fault, ...again] = result.faults.filter((found) => found.field === field);
    expect(again).toEqual([]);
    expect(fault, JSON.stringify(result.faults)).toMatchObject({ code, file: "desk.yaml", line, column });
    expect(`${fault!.message} ${fault!.allowed}`).toContain(says);
  });
});
