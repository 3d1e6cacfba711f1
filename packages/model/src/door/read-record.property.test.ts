import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { RULE_PACK_YAML } from "../fixtures/rule-pack-file.ts";
import { SITE_YAML } from "../fixtures/site-file.ts";
import { VISIT_YAML } from "../fixtures/visit-file.ts";
import { FAULT_CATALOGUE } from "../faults/catalogue.ts";
import type { ReadResult } from "../faults/input-fault.ts";
import { readRulePack } from "../rule-pack/read-rule-pack.ts";
import { readSite } from "../site/read-site.ts";
import { readVisit } from "../visit/read-visit.ts";
import { readYaml } from "../yaml/read-yaml.ts";

const DOORS = [
  ["site", SITE_YAML, readSite],
  ["visit", VISIT_YAML, readVisit],
  ["rule pack", RULE_PACK_YAML, readRulePack],
] as const;

const codes = new Set<string>(FAULT_CATALOGUE.map(({ code }) => code));

/** Either a record, or faults that have a known code, a place inside the text and something to say. */
function expectSound(result: ReadResult<unknown>, text: string): void {
  if (result.ok) return;
  const lines = text.split(/\r\n?|\n/u);
  expect(result.faults.length).toBeGreaterThan(0);
  for (const fault of result.faults) {
    expect(codes).toContain(fault.code);
    expect(fault.message).not.toBe("");
    expect(fault.allowed).not.toBe("");
    if (fault.line === null) continue;
    expect(fault.line).toBeGreaterThanOrEqual(1);
    expect(fault.line).toBeLessThanOrEqual(lines.length);
    expect(fault.column).toBeLessThanOrEqual(lines[fault.line - 1]!.length + 1);
  }
}

const put = fc.constantFrom(
  "",
  "-",
  ":",
  ": ",
  ",",
  "{",
  "}",
  "[",
  "]",
  '"',
  "'",
  "\n",
  "  ",
  "\t",
  "#",
  "&a",
  "*a",
  "~",
  "1e9",
  "0",
  "x",
  "\0",
  "é",
);

describe.each(DOORS)("the door for a %s", (_, sound, read) => {
  test("never throws, and points into the text, whatever is done to a sound file", () => {
    const edits = fc.array(fc.tuple(fc.nat(sound.length), fc.nat(12), put), { minLength: 1, maxLength: 4 });
    fc.assert(
      fc.property(edits, (list) => {
        const text = list.reduce<string>(
          (all, [at, cut, piece]) => all.slice(0, at) + piece + all.slice(at + cut),
          sound,
        );
        expectSound(read(text, "x"), text);
      }),
      { numRuns: 150 },
    );
  });

  test("never throws on bytes of any kind", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        const result = read(bytes, "x");
        expect(result.ok ? [] : result.faults.map(({ code }) => codes.has(code))).toContain(true);
      }),
      { numRuns: 100 },
    );
  });

  test("never throws when any part of the data is of another kind", () => {
    const data = readYaml(sound);
    const text = JSON.stringify(data.ok && data.data);
    const parts = [...text.matchAll(/"(?:[^"\\]|\\.)*"|\d+(?:\.\d+)?|true|false|\{\}|\[\]/gu)];
    const other = fc.constantFrom(
      "null",
      "[]",
      "{}",
      "[[{}]]",
      '""',
      "0",
      "-1",
      "1e400",
      "true",
      '"x"',
      '{"__proto__":{}}',
    );
    fc.assert(
      fc.property(fc.constantFrom(...parts), other, (part, value) => {
        const changed = text.slice(0, part.index) + value + text.slice(part.index + part[0].length);
        expectSound(read(changed, "x"), changed);
      }),
      { numRuns: 150 },
    );
  });
});
