import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { catalogue } from "./catalogue.ts";

const ENGINE = "packages/engine/src";

/** Codes in the texts of errors that the engine throws: `new RangeError("CODE: …")` or `new SomeError("CODE", …)`. */
function thrownCodes(): readonly string[] {
  const files = readdirSync(ENGINE, { recursive: true, encoding: "utf8" }).filter(
    (name) => name.endsWith(".ts") && !name.endsWith(".test.ts"),
  );
  const codes = files.flatMap((name) =>
    [
      ...readFileSync(join(ENGINE, name), "utf8").matchAll(/throw new \w+\(\s*[`"]([A-Z]+(?:_[A-Z0-9]+)+)/gu),
    ].map((match) => match[1]!),
  );
  return [...new Set(codes)].sort();
}

describe("the catalogue", () => {
  it("explains every code that a calculation throws", () => {
    const explained = new Set(catalogue.map(({ code }) => code));
    const thrown = thrownCodes();
    expect(thrown).toContain("CIRCUIT_PLACE_UNKNOWN");
    expect(thrown.filter((code) => !explained.has(code))).toEqual([]);
  });
});
