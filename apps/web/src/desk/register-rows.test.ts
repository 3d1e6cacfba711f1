import { describe, expect, it } from "vitest";
import { csvOf, filtered, sorted } from "./register-rows.ts";
import type { SiteLine } from "./records.ts";

const line = (id: string, change: Partial<SiteLine> = {}): SiteLine => ({
  id,
  name: null,
  revision: 1,
  putAt: 0,
  putBy: "Ann",
  arrays: 1,
  openCases: 0,
  activeAlarms: 0,
  silentPaths: 0,
  ...change,
});

const ids = (sites: readonly SiteLine[]): readonly string[] => sites.map(({ id }) => id);

describe("the register", () => {
  it("finds a site by words of its name or id in any order, without case and accents", () => {
    const sites = [line("m1", { name: "Mühle am Bach" }), line("m2", { name: "Old mill" })];
    expect(ids(filtered(sites, "bach muhle"))).toEqual(["m1"]);
    expect(ids(filtered(sites, "M2"))).toEqual(["m2"]);
    expect(ids(filtered(sites, " "))).toEqual(["m1", "m2"]);
  });

  it("puts open cases before silent paths before other signs, then goes by name with numbers as numbers", () => {
    const sites = [
      line("s10"),
      line("s9"),
      line("sign", { activeAlarms: 1 }),
      line("silent", { activeAlarms: 1, silentPaths: 1 }),
      line("case", { openCases: 1 }),
    ];
    expect(ids(sorted(sites, "need"))).toEqual(["case", "silent", "sign", "s9", "s10"]);
  });

  // Quoting after RFC 4180, sections 2.5 to 2.7 (published).
  it.each([
    ["a comma", "Mill, old", '"Mill, old"'],
    ["a quote", 'The "mill"', '"The ""mill"""'],
    ["a line end", "Mill\nold", '"Mill\nold"'],
    ["a formula", "=1+1", "'=1+1"],
    ["a formula with a comma", "@SUM(A1,B1)", `"'@SUM(A1,B1)"`],
  ])("writes %s so that a reader of tables takes it as text", (_, name, cell) => {
    const [columns, row] = csvOf([line("s1", { name })]).split("\r\n");
    expect(columns!.split(",")[1]).toBe("name");
    expect(row).toBe(`s1,${cell},1,0,0,0,1,1970-01-01T00:00:00.000Z,Ann`);
  });
});
