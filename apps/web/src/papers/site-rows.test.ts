import { describe, expect, it } from "vitest";
import { statesPath, toMakePath } from "./site-rows.ts";

describe("what the desk is asked about papers", () => {
  it("holds nothing that was not asked", () => {
    expect(statesPath({ find: "  ", kind: "any", state: "any" }, 100)).toBe("/api/paper-states?limit=100");
  });

  it("carries words as they were typed, accents and signs with them", () => {
    const path = statesPath({ find: "Kírk & hall", kind: "owner-notice", state: "outdated" }, 200);
    const { searchParams } = new URL(path, "https://desk.example.org");
    expect(Object.fromEntries(searchParams)).toEqual({
      ...{ limit: "200", find: "Kírk & hall", kind: "owner-notice", state: "outdated" },
    });
  });

  it("asks for those to be made within what is shown", () => {
    expect(toMakePath({ find: "mill", kind: "any", state: "any" }, "visit-sheet")).toBe(
      "/api/paper-states/to-make?paper=visit-sheet&find=mill",
    );
  });
});
