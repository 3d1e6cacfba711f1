import { describe, expect, it } from "vitest";
import { newestProofOn } from "@earthbell/model";
import { csvOf, filtered, ONLY, sorted } from "./register-rows.ts";
import type { SiteLine, SiteStanding } from "./records.ts";

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
  standing: null,
  insulation: null,
  drillPassedAt: null,
  ...change,
});

const standing = (change: Partial<SiteStanding>): SiteStanding => ({
  onDate: "2026-11-25",
  duty: "required",
  path: "meets",
  thresholdOhms: 30_000,
  provedOn: null,
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

  it("puts the lowest insulation first, and what is not heard last", () => {
    const sites = [
      line("unheard"),
      line("high", { insulation: { ohms: 4e6, at: 0 } }),
      line("low", { insulation: { ohms: 2e4, at: 0 } }),
    ];
    expect(ids(sorted(sites, "insulation"))).toEqual(["low", "high", "unheard"]);
  });

  it("takes the newer of a drill at the desk and a proof in the file", () => {
    const filed = standing({ provedOn: "2026-02-03" });
    const drilled = Date.UTC(2026, 5, 1, 12);
    expect(newestProofOn(line("a", { standing: filed, drillPassedAt: drilled }))).toBe("2026-06-01");
    expect(
      newestProofOn(line("b", { standing: standing({ provedOn: "2026-07-01" }), drillPassedAt: drilled })),
    ).toBe("2026-07-01");
    expect(newestProofOn(line("c", { standing: filed }))).toBe("2026-02-03");
    expect(newestProofOn(line("d"))).toBeNull();
  });

  it("shows alone what a person asks for; a site that is not judged yet is not said to lack anything", () => {
    const sites = [
      line("unjudged"),
      line("served", { standing: standing({ provedOn: "2025-11-25" }) }),
      line("short", { standing: standing({ path: "falls-short", provedOn: "2025-11-24" }) }),
      line("pathless", { standing: standing({ path: null }) }),
      line("free", { standing: standing({ duty: "not-required", path: null }) }),
    ];
    expect(ids(sites.filter(ONLY.required))).toEqual(["served", "short", "pathless"]);
    expect(ids(sites.filter(ONLY.unserved))).toEqual(["short", "pathless"]);
    expect(ids(sites.filter(ONLY.unproved))).toEqual(["short", "pathless"]);
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
    expect(row).toBe(`s1,${cell},1,0,0,0,,,,,,,,1,1970-01-01T00:00:00.000Z,Ann`);
  });
});
