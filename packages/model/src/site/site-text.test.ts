import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Site } from "@earthbell/engine";
import { SITE_YAML } from "../fixtures/site-file.ts";
import { readSite } from "./read-site.ts";
import { siteText } from "./site-text.ts";

function read(text: string): Site {
  const result = readSite(text, "site.yaml");
  if (!result.ok) throw new Error(`${JSON.stringify(result.faults)}\n${text}`);
  return result.record;
}

describe("siteText", () => {
  test("is read as the site it was made from, with every kind of field", () => {
    const site = read(SITE_YAML);
    expect(read(siteText(site))).toEqual(site);
  });

  test("keeps any name and description that a file may hold", () => {
    const site = read(SITE_YAML);
    const words = fc
      .oneof(
        fc.string({ minLength: 1, maxLength: 60, unit: "grapheme" }),
        fc.constantFrom(
          "no",
          "12",
          "1e3",
          "2020-01-01",
          "a: b",
          "#",
          "- x",
          "{",
          "'",
          '"',
          "null ",
          "x\\",
          "~",
        ),
      )
      .filter((text) => /\S/u.test(text) && !/\p{Cc}/u.test(text));
    fc.assert(
      fc.property(words, words, (name, description) => {
        const inverter = { ...site.inverters[0]!, where: { description } };
        const named = { ...site, name, inverters: [inverter] };
        expect(read(siteText(named))).toEqual(named);
      }),
    );
  });

  test("puts notes at the top, each on a line of its own", () => {
    const text = siteText(read(SITE_YAML), ["planned,\nnot built", "second"]);
    expect(text.split("\n").slice(0, 3)).toEqual([
      "# planned, not built",
      "# second",
      "format: earthbell.site/1",
    ]);
    expect(read(text).id).toBe("skerry-point");
  });

  test("leaves out what the site does not state", () => {
    const site = read(SITE_YAML);
    const bare: Site = { ...site, people: [], paths: [], proofs: [] };
    expect(siteText(bare)).not.toMatch(/people|paths|proofs|undefined/u);
    expect(read(siteText(bare))).toEqual(bare);
  });
});
