import { describe, expect, it } from "vitest";
import type { PaperState, SitePapers } from "./paper-records.ts";
import { sitesAsked, toMake } from "./site-rows.ts";

const site = (id: string, name: string, notice: PaperState, design: PaperState): SitePapers => ({
  id,
  name,
  papers: {
    "owner-notice": notice,
    "design-record": design,
    "commissioning-record": "lacking",
    "visit-sheet": "current",
  },
});
const SITES = [
  site("kirk", "Kírk hall", "current", "outdated"),
  site("mill", "Old mill", "lacking", "current"),
];
const ids = (sites: readonly SitePapers[]): readonly string[] => sites.map(({ id }) => id);

describe("sites with their papers", () => {
  it("are found by words of their names without accents, and by how a paper stands", () => {
    expect(ids(sitesAsked(SITES, { find: "kirk HALL", kind: "any", state: "any" }))).toEqual(["kirk"]);
    expect(ids(sitesAsked(SITES, { find: "", kind: "any", state: "outdated" }))).toEqual(["kirk"]);
    expect(ids(sitesAsked(SITES, { find: "", kind: "owner-notice", state: "outdated" }))).toEqual([]);
    expect(ids(sitesAsked(SITES, { find: "", kind: "owner-notice", state: "lacking" }))).toEqual(["mill"]);
  });

  it("need a paper where it is lacking or outdated", () => {
    expect(toMake(SITES, "owner-notice")).toEqual(["mill"]);
    expect(toMake(SITES, "design-record")).toEqual(["kirk"]);
    expect(toMake(SITES, "visit-sheet")).toEqual([]);
  });
});
