import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { SITE_YAML } from "./fixtures/site-file.ts";
import { VISIT_YAML } from "./fixtures/visit-file.ts";
import { BUILT_IN_PACKS } from "@earthbell/engine";
import { rulePackJsonSchema, siteJsonSchema, visitJsonSchema, type JsonSchema } from "./json-schema.ts";
import { readYaml } from "./yaml/read-yaml.ts";

// ajv 8 compiles and runs the schemas independently of the library that made them.
function compiled(schema: JsonSchema) {
  return new Ajv2020({
    strict: true,
    strictTypes: false,
    allowUnionTypes: true,
    validateFormats: false,
  }).compile(schema);
}

const isSite = compiled(siteJsonSchema());
const isVisit = compiled(visitJsonSchema());
const isRulePack = compiled(rulePackJsonSchema());

function visitData(text: string): unknown {
  const read = readYaml(text);
  if (!read.ok) throw new Error(read.trouble.message);
  return read.data;
}

describe("JSON Schemas for editors", () => {
  test("name draft 2020-12", () => {
    const dialect = "https://json-schema.org/draft/2020-12/schema";
    for (const schema of [siteJsonSchema(), visitJsonSchema(), rulePackJsonSchema()])
      expect(schema.$schema).toBe(dialect);
  });

  test("accept sound files", () => {
    expect(isSite(parse(SITE_YAML)), JSON.stringify(isSite.errors)).toBe(true);
    expect(isVisit(visitData(VISIT_YAML)), JSON.stringify(isVisit.errors)).toBe(true);
    for (const pack of BUILT_IN_PACKS) expect(isRulePack(pack), JSON.stringify(isRulePack.errors)).toBe(true);
  });

  test.each([
    ["a wrong unit", "ratedPower: 12.5 kVA", "ratedPower: 12.5 kW"],
    ["a missing unit", "voc: 45.2 V", "voc: 45.2"],
    ["a decimal comma", "pmax: 395 W", 'pmax: "395,5 W"'],
    ["an unknown field", "separation: none", "seperation: none"],
    ["an unknown word", "earthing: floating", "earthing: afloat"],
    ["no modules in a string", "{id: S1, modules: 16}", "{id: S1, modules: 0}"],
    ["too many modules in a string", "{id: S1, modules: 16}", "{id: S1, modules: 1000000000}"],
    ["a missing field", "    inverter: INV1\n", ""],
    ["another format", "earthbell.site/1", "earthbell.site/9"],
    [
      "a list for a map",
      "place: {country: NZ, region: STL, timezone: Pacific/Auckland, latitude: -46.6, longitude: 168.3}",
      "place: []",
    ],
  ])("mark %s in a site file", (_, sound, broken) => {
    expect(SITE_YAML).toContain(sound);
    expect(isSite(parse(SITE_YAML.replace(sound, broken)))).toBe(false);
  });

  test.each([
    ["a wrong unit", "moduleVoc: 40.4 V", "moduleVoc: 40.4 A"],
    ["an unknown terminal", "from: +, to: -, value", "from: +, to: ground, value"],
    ["an unknown kind of instrument", "{kind: voltmeter", "{kind: multimeter"],
    ["a segment of three nodes", "segment: [0, 9]", "segment: [0, 9, 12]"],
    ["a reading without its value", "isolated: [S2]\n    value: 160.9 V", "isolated: [S2]"],
  ])("mark %s in a visit file", (_, sound, broken) => {
    expect(VISIT_YAML).toContain(sound);
    expect(isVisit(visitData(VISIT_YAML.replace(sound, broken)))).toBe(false);
  });
});
