import { describe, expect, it } from "vitest";
import { type AskedSites, paperStates } from "./asked-sites.ts";
import type { PaperState, SiteStandings } from "./site-standings.ts";

const site = (id: string, name: string, notice: PaperState, design: PaperState): SiteStandings => ({
  id,
  name,
  papers: {
    "owner-notice": notice,
    "design-record": design,
    "commissioning-record": "lacking",
    "visit-sheet": "current",
  },
});
const KIRK = site("kirk", "Kírk hall", "current", "outdated");
const MILL = site("mill", "Old mill", "lacking", "current");

async function* inPortions(): AsyncGenerator<readonly SiteStandings[]> {
  yield await Promise.resolve([KIRK]);
  yield [];
  yield [MILL];
}
const asked = (change: Partial<AskedSites>, most = 10) =>
  paperStates(inPortions(), { find: "", kind: "any", state: "any", ...change }, most);

describe("sites with their papers", () => {
  it.each<[string, Partial<AskedSites>, readonly string[]]>([
    ["words of their names without accents", { find: "kirk HALL" }, ["kirk"]],
    ["a word of their ids", { find: "mil" }, ["mill"]],
    ["how a paper of any kind stands", { state: "outdated" }, ["kirk"]],
    ["how a paper of one kind stands", { kind: "owner-notice", state: "lacking" }, ["mill"]],
    ["both, where none fits", { find: "mill", kind: "owner-notice", state: "outdated" }, []],
  ])("are found by %s", async (_, change, expected) => {
    expect((await asked(change)).sites.map(({ id }) => id)).toEqual(expected);
  });

  it("are counted where they are not named, with the papers that are to be made", async () => {
    expect(await asked({}, 1)).toEqual({
      count: 2,
      fits: 2,
      toMake: { "owner-notice": 1, "design-record": 1, "commissioning-record": 2, "visit-sheet": 0 },
      sites: [KIRK],
    });
    expect(await asked({ find: "kirk" })).toMatchObject({ count: 2, fits: 1, toMake: { "owner-notice": 0 } });
  });
});
