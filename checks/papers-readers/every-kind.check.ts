import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Extra, issueNow, paperHtml, paperPdf, recipes, type Source } from "@earthbell/papers";
import { describe, expect, it } from "vitest";
import { openTypesetter } from "../../apps/cli/src/paper/typesetter.ts";

const folder = mkdtempSync(join(tmpdir(), "earthbell-kinds-"));
const typesetter = await openTypesetter();
const digest = (text: string): string => createHash("sha256").update(text).digest("hex");
const read = (program: string, ...words: string[]): string =>
  execFileSync(program, words, { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] });

function source(file: string, change: (text: string) => string = (text) => text): Source {
  return { bytes: change(readFileSync(file, "utf8")), file, stem: "one" };
}

/** Names that tear a layout: other scripts, both directions, emoji, and words without an end. */
const ENDLESS = "Pneumono".repeat(7);
const IDEOGRAPHS = "太陽光ひかり发电站서울☀️🚜".repeat(5);
const nasty = (text: string): string =>
  text
    .replace(
      "Hennick creamery",
      `"${IDEOGRAPHS} مرحبا بالعالم 𓀀 ${ENDLESS} ${"and a long name ".repeat(4).trim()}"`,
    )
    .replace("by the dairy door, at eye height", `"خلف الباب ${IDEOGRAPHS} ${ENDLESS}"`)
    .replace("{id: S1,", `{id: ${ENDLESS.slice(0, 60)},`);

const site = source("demo/sites/creamery.yaml");
const odd = source("demo/sites/creamery.yaml", nasty);
const visit = source("demo/visits/ferry-shed-2026-09-07-before.yaml");
interface KindCase {
  readonly name: string;
  readonly kind: string;
  readonly sources: readonly Source[];
  readonly extra: Extra;
}

function kindCase(name: string, kind: string, sources: readonly Source[], extra: Extra = {}): KindCase {
  return { name, kind, sources, extra };
}

const cases: readonly KindCase[] = [
  kindCase("the owner's notice", "owner-notice", [site]),
  kindCase("the owner's notice, of long names", "owner-notice", [odd]),
  kindCase("the design record", "design-record", [site]),
  kindCase("the design record, of long names", "design-record", [odd]),
  kindCase("the commissioning record", "commissioning-record", [site]),
  kindCase("the commissioning record, of long names", "commissioning-record", [odd]),
  kindCase("the commissioning record with results", "commissioning-record", [site], {
    results: source("demo/commissioning/creamery-2026-02-03.yaml"),
  }),
  kindCase("the fault report", "fault-report", [visit], {
    after: source("demo/visits/ferry-shed-2026-09-07-after.yaml"),
  }),
  kindCase("the register", "fleet-register", [site, odd, source("demo/sites/bakery.yaml")]),
  kindCase("the visit sheet", "visit-sheet", [site]),
  kindCase("the visit sheet, of long names", "visit-sheet", [odd]),
  kindCase("the setting sheet", "setting-sheet", [source("demo/settings/gannet-s.yaml")]),
];

/** Pixels of a page at two to the millimetre, from a portable greymap. */
function pages(
  file: string,
): readonly { readonly wide: number; readonly high: number; readonly ink: Buffer }[] {
  const bytes = execFileSync("pdftoppm", ["-gray", "-r", "50.8", file], {
    maxBuffer: 2 ** 28,
    stdio: ["ignore", "pipe", "ignore"],
  });
  const found: { wide: number; high: number; ink: Buffer }[] = [];
  for (let at = 0; at < bytes.length; ) {
    const head = /^P5\s(\d+)\s(\d+)\s\d+\s/u.exec(bytes.subarray(at, at + 60).toString("latin1"))!;
    const [wide, high] = [Number(head[1]), Number(head[2])];
    const from = at + head[0].length;
    found.push({ wide, high, ink: bytes.subarray(from, from + wide * high) });
    at = from + wide * high;
  }
  return found;
}

/** Millimetres from the nearest edge of a page to the outermost ink. */
function margin(file: string): number {
  let least = Infinity;
  for (const { wide, high, ink } of pages(file))
    for (let y = 0; y < high; y++)
      for (let x = 0; x < wide; x++)
        if (ink[y * wide + x]! < 250) least = Math.min(least, x, y, wide - 1 - x, high - 1 - y);
  return least / 2;
}

describe.each(cases)("$name", ({ name, kind, sources, extra }) => {
  const recipe = recipes.find((one) => one.kind === kind)!;
  const prepared = recipe.prepare(sources, extra);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.faults));
  const maker = {
    language: "en",
    digest,
    digestOfBytes: () => "",
    today: "2026-11-25",
    version: "check",
  } as const;
  const paper = prepared.record.paper(issueNow(recipe.kind, prepared.record, maker, null));
  const file = join(folder, `${name.replace(/\W+/gu, "-")}.pdf`);

  it("is sound by qpdf, tagged, has its fonts inside, and keeps ten millimetres from every edge", async () => {
    writeFileSync(file, (await paperPdf(paper, typesetter)).bytes);
    expect(read("qpdf", "--check", file)).toContain("No syntax or stream encoding errors found");
    const info = read("pdfinfo", file);
    expect(info).toMatch(/Tagged:\s+yes/u);
    expect(info).toMatch(/Title:\s+\S/u);
    const fonts = read("pdffonts", file).trim().split("\n").slice(2);
    expect(fonts.length).toBeGreaterThan(0);
    for (const font of fonts) expect(font).toMatch(/ yes yes yes /u);
    expect(margin(file)).toBeGreaterThanOrEqual(10);
  });

  it("gives every figure that it prints to a reader of its text, with its source", async () => {
    writeFileSync(file, (await paperPdf(paper, typesetter)).bytes);
    const plain = (text: string): string => text.replace(/\s+/gu, "");
    const text = plain(read("pdftotext", "-raw", file, "-"));
    const figures = paper.blocks.flatMap((block) => (block.kind === "figures" ? block.rows : []));
    for (const { value, source: from } of figures) {
      expect(text).toContain(plain(value));
      expect(from.trim()).not.toBe("");
    }
    expect(text).toContain(plain(paper.title));
  });

  it("is one self-contained HTML file with a language", () => {
    const html = paperHtml(paper);
    expect(html).toContain('<html lang="en">');
    expect(html).not.toMatch(/(?:src|href)="(?!data:)/u);
  });
});
