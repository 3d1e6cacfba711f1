import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { MALFORMED_COMMISSIONINGS } from "../fixtures/malformed-commissioning.ts";
import { MALFORMED_DESKS } from "../fixtures/malformed-desk.ts";
import { MALFORMED_DEVICES } from "../fixtures/malformed-device.ts";
import { MALFORMED_EVENTS } from "../fixtures/malformed-events.ts";
import { MALFORMED_RULE_OVERRIDES } from "../fixtures/malformed-rule-overrides.ts";
import { MALFORMED_RULE_PACKS } from "../fixtures/malformed-rule-pack.ts";
import { MALFORMED_SITES } from "../fixtures/malformed-site.ts";
import { MALFORMED_TEXTS } from "../fixtures/malformed-text.ts";
import { MALFORMED_VISITS } from "../fixtures/malformed-visit.ts";
import { explainFault, FAULT_CATALOGUE } from "./catalogue.ts";

const CODE = /"((?:INPUT|QUANTITY|SITE|VISIT|RULES|DESK|COMMISSIONING)_[A-Z0-9_]+)"/gu;

const PHOTOS = "../../../apps/cli/src/paper/visit-photos.test.ts";

/** Codes that take more than one slip in one file, with the test where each comes up. */
const ELSEWHERE: Readonly<Record<string, string>> = {
  INPUT_FAULTS_TOO_MANY: "door/read-record.test.ts",
  COMMISSIONING_SHEET_TWICE: "commissioning/settings.test.ts",
  COMMISSIONING_SHEET_ALTERED: "commissioning/settings.test.ts",
  VISIT_PHOTO_MISSING: PHOTOS,
  VISIT_PHOTO_ALTERED: PHOTOS,
  VISIT_PHOTO_NO_PICTURE: PHOTOS,
};

/** Codes written in the sources of the doors and of the quantity parser. */
function codesInSources(): Set<string> {
  const folders = [
    "commissioning",
    "desk",
    "door",
    "fields",
    "history",
    "rule-overrides",
    "rule-pack",
    "site",
    "sunspec",
    "visit",
    "yaml",
    "../../engine/src/quantity",
  ];
  const codes = folders.flatMap((folder) => {
    const url = new URL(`../${folder}/`, import.meta.url);
    const files = readdirSync(url).filter((name) => name.endsWith(".ts") && !name.endsWith(".test.ts"));
    return files.flatMap((name) =>
      [...readFileSync(new URL(name, url), "utf8").matchAll(CODE)].map((match) => match[1]!),
    );
  });
  return new Set(codes);
}

describe("the catalogue of faults", () => {
  const codes = new Set<string>(FAULT_CATALOGUE.map(({ code }) => code));

  test("explains every code that the sources name", () => {
    const named = codesInSources();
    expect(named.size).toBeGreaterThan(30);
    expect([...named].filter((code) => !codes.has(code))).toEqual([]);
  });

  test("holds no code that no malformed input of the tests produces", () => {
    const cases = [
      ...[...MALFORMED_TEXTS, ...MALFORMED_SITES, ...MALFORMED_VISITS, ...MALFORMED_RULE_PACKS],
      ...[...MALFORMED_COMMISSIONINGS, ...MALFORMED_RULE_OVERRIDES],
      ...[...MALFORMED_DESKS, ...MALFORMED_DEVICES, ...MALFORMED_EVENTS],
    ];
    const produced = new Set([...cases.map(({ code }) => code), ...Object.keys(ELSEWHERE)]);
    expect([...codes].filter((code) => !produced.has(code))).toEqual([]);
  });

  test.each(Object.entries(ELSEWHERE))("leaves %s to the test that makes it", (code, file) => {
    expect(readFileSync(new URL(`../${file}`, import.meta.url), "utf8")).toContain(`"${code}"`);
  });

  test.each(FAULT_CATALOGUE)("says of $code what it means, what causes it and what to do", (page) => {
    expect(page.title).toMatch(/^[A-Z].*[^.]$/u);
    expect(page.meaning).toMatch(/\.$/u);
    expect(page.causes.length).toBeGreaterThan(0);
    expect(page.remedy).toMatch(/\.$/u);
    expect(JSON.stringify(page)).not.toContain("!");
    expect(explainFault(page.code)).toBe(page);
  });

  test("knows nothing of other codes", () => {
    expect(explainFault("INPUT_NO_SUCH_CODE")).toBeUndefined();
  });
});
