import { describe, expect, test } from "vitest";
import { malformed } from "../fixtures/malformed.ts";
import { MALFORMED_SITES } from "../fixtures/malformed-site.ts";
import { MALFORMED_TEXTS } from "../fixtures/malformed-text.ts";
import { SITE_YAML } from "../fixtures/site-file.ts";
import type { InputFault } from "../faults/input-fault.ts";
import { readSite } from "../site/read-site.ts";
import { readYaml } from "../yaml/read-yaml.ts";

function faultsOf(source: string | Uint8Array, firstLine = 1): readonly InputFault[] {
  const result = readSite(source, "a.yaml", { firstLine });
  return result.ok ? [] : result.faults;
}

function siteAsJson(indent: number): string {
  const read = readYaml(SITE_YAML);
  if (!read.ok) throw new Error(read.trouble.message);
  return JSON.stringify(read.data, null, indent);
}

describe("the door for files", () => {
  test.each(MALFORMED_TEXTS)("refuses $title with $code", ({ source, code, line, says = "" }) => {
    const faults = faultsOf(source);
    const fault = faults.find((found) => found.code === code);
    expect(fault, JSON.stringify(faults)).toMatchObject({ file: "a.yaml", line });
    expect(`${fault!.message} ${fault!.allowed}`).toContain(says);
    expect(JSON.stringify(faults)).not.toMatch(/\bat .*\.ts:\d/u);
  });

  test("reads bytes, text, a byte order mark, CR LF and JSON alike", () => {
    const expected = readSite(SITE_YAML, "a.yaml");
    expect(expected.ok).toBe(true);
    const encoder = new TextEncoder();
    const variants = [
      encoder.encode(SITE_YAML),
      encoder.encode(`\uFEFF${SITE_YAML}`),
      `\uFEFF${SITE_YAML}`,
      SITE_YAML.replaceAll("\n", "\r\n"),
      SITE_YAML.replaceAll("\n", "\r"),
      siteAsJson(0),
      siteAsJson(2),
      `---\n${SITE_YAML}...\n`,
    ];
    for (const variant of variants) expect(readSite(variant, "a.yaml")).toEqual(expected);
  });

  test("reports every fault of a file at once, in order of line", () => {
    // A comma inside braces makes two faults of one slip.
    const replaced = MALFORMED_SITES.filter(
      ({ code, title }) => /^QUANTITY_|^INPUT_REF/u.test(code) && !title.includes("inside braces"),
    );
    let text = SITE_YAML;
    const fields = new Set<string>();
    for (const { replace, by, field } of replaced) {
      if (fields.has(field) || text.split(replace).length !== 2) continue;
      text = text.replace(replace, by.replace("▸", ""));
      fields.add(field);
    }
    const faults = faultsOf(text);
    expect(fields.size).toBeGreaterThan(10);
    expect(new Set(faults.map(({ field }) => field))).toEqual(fields);
    const lines = faults.map(({ line }) => line!);
    expect(lines).toEqual([...lines].sort((a, b) => a - b));
  });

  test("places a fault in JSON on one line by its column, and on the line that the caller names", () => {
    const row = MALFORMED_SITES.find(({ title }) => title === "a string of 0 modules")!;
    const broken = malformed(SITE_YAML, row).text;
    const read = readYaml(broken);
    if (!read.ok) throw new Error(read.trouble.message);
    const json = JSON.stringify(read.data);
    const column = json.indexOf('"modules":0') + '"modules":'.length + 1;
    expect(faultsOf(json, 17)).toMatchObject([{ code: row.code, field: row.field, line: 17, column }]);
  });

  test("shortens values to 60 characters and says what is allowed", () => {
    const [fault] = faultsOf(SITE_YAML.replace("id: skerry-point", `id: ${"long ".repeat(40)}`));
    expect(fault).toMatchObject({ code: "INPUT_TEXT_INVALID", field: "site.id" });
    expect(fault!.value).toHaveLength(60);
    expect(fault!.allowed).toContain("60 characters");
  });

  test("lists a thousand faults of a hopeless file and says that there are more", () => {
    const strings = Array.from({ length: 4000 }, (_, at) => `{id: S${at}, modules: 0}`).join(", ");
    const text = SITE_YAML.replace("[{id: S1, modules: 16}, {id: S2, modules: 15}]", `[${strings}]`);
    const faults = faultsOf(text);
    expect(faults).toHaveLength(1001);
    expect(faults.at(-1)).toMatchObject({ code: "INPUT_FAULTS_TOO_MANY" });
  });

  test("stops at the size that the caller sets", () => {
    const result = readSite(SITE_YAML, "a.yaml", { maxBytes: 1000 });
    expect(result).toMatchObject({
      ok: false,
      faults: [{ code: "INPUT_FILE_TOO_LARGE", allowed: "at most 1000 bytes" }],
    });
  });

  test("reads a repeated value through an alias", () => {
    const text = SITE_YAML.replace("link: {", "link: &link {").replace(
      "  - {id: P3,",
      "  - {id: P8, arrays: [A1], signal: message, to: [owner], link: *link}\n  - {id: P3,",
    );
    const result = readSite(text, "a.yaml");
    expect(result).toMatchObject({
      ok: true,
      record: { paths: [{ link: { meanOutage: 360 } }, {}, { link: { meanOutage: 360 } }, {}, {}] },
    });
  });
});
