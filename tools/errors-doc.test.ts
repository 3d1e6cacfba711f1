import { describe, expect, it } from "vitest";
import { catalogue } from "../apps/cli/src/catalogue/catalogue.ts";
import type { Entry } from "../apps/cli/src/catalogue/entry.ts";
import { differences, errorsDocument } from "./errors-doc.ts";

const entry = (code: string, title = "A title"): Entry => ({
  code,
  group: "tests",
  title,
  meaning: "It means this.",
  next: "Do that.",
});

describe("differences", () => {
  const entries = [entry("ONE_CODE"), entry("OTHER_CODE")];

  it("finds none in a document just written", () => {
    expect(differences(errorsDocument(entries), entries)).toEqual([]);
  });

  it("names a code that the document lacks", () => {
    expect(differences(errorsDocument(entries.slice(0, 1)), entries)).toEqual([
      "OTHER_CODE: not in docs/errors.md",
    ]);
  });

  it("names a code that only the document has", () => {
    expect(differences(errorsDocument(entries), entries.slice(0, 1))).toEqual([
      "OTHER_CODE: only in docs/errors.md",
    ]);
  });

  it("notices a text that was changed", () => {
    const before = errorsDocument([entry("ONE_CODE", "Another title")]);
    expect(differences(before, [entry("ONE_CODE")])).toHaveLength(1);
  });

  it("notices that there is no document", () => {
    expect(differences("", entries)).toHaveLength(2);
  });
});

describe("the catalogue", () => {
  it("holds every code once", () => {
    const codes = catalogue.map(({ code }) => code);
    expect(codes.length).toBeGreaterThan(50);
    expect(new Set(codes).size).toBe(codes.length);
  });

  it("writes findings and faults as AREA_THING_PROBLEM", () => {
    const findings = catalogue.filter(({ group }) => group !== "verdicts of a finding");
    expect(findings.map(({ code }) => code).filter((code) => !/^[A-Z]+(_[A-Z0-9]+)+$/u.test(code))).toEqual(
      [],
    );
  });
});
