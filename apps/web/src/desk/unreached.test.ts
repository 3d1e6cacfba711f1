import { describe, expect, it } from "vitest";
import { unreachedWords } from "./unreached.ts";

const read = (path: string): string => unreachedWords("GET", path, true);

describe("what is said when the desk gives no answer", () => {
  it("names what a question asked for, and says nothing of sending", () => {
    expect(read("/api/now")).toContain("what needs a person could not be fetched");
    expect(read("/api/case-lines?state=open&limit=100")).toContain(": the cases could not");
    expect(read("/api/cases/2026-001")).toContain(": this case could not");
    expect(read("/api/sites/mill")).toContain(": this site could not");
    expect(read("/api/sites/mill/arrays/A1/history")).toContain(": the insulation history could not");
    expect(read("/api/sites/mill/insulation-tests")).toContain(": the insulation tests could not");
    expect(read("/api/visits/v-1/photos/p-1")).toContain(": the photo could not");
    expect(read("/api/constructor")).toContain("what this page shows");
    for (const path of ["/api/now", "/healthz", "/api/settings"]) expect(read(path)).not.toMatch(/\bsent\b/u);
  });

  it("says what to do next, with and without signal", () => {
    expect(read("/api/now")).toMatch(/load the page again\.$/u);
    expect(unreachedWords("GET", "/api/now", false)).toMatch(
      /^This device has no signal.*load the page again\.$/u,
    );
  });

  it("claims that nothing was sent only where nothing can have been", () => {
    expect(unreachedWords("POST", "/api/cases/1/steps", false)).toContain("nothing was sent");
    expect(unreachedWords("POST", "/api/cases/1/steps", true)).toMatch(/not known.*before you do it again/u);
  });
});
