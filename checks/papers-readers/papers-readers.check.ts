import { execFileSync } from "node:child_process";
import { generateKeyPairSync, createHash } from "node:crypto";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { assessSite, type Site } from "@earthbell/engine";
import { readSite } from "@earthbell/model";
import {
  calendarFeed,
  designRecord,
  issueOf,
  jsonOf,
  noticeInput,
  ownerNotice,
  type Paper,
  paperPdf,
  readSignature,
  registerTable,
  sheetXlsx,
} from "@earthbell/papers";
import { describe, expect, it } from "vitest";
import { signerOf } from "../../apps/cli/src/paper/signing-key.ts";
import { openTypesetter } from "../../apps/cli/src/paper/typesetter.ts";

const folder = mkdtempSync(join(tmpdir(), "earthbell-readers-"));
const typesetter = await openTypesetter();
const DAY = "2026-11-25";

function siteNamed(name: string, change: (text: string) => string = (text) => text): Site {
  const read = readSite(change(readFileSync(`demo/sites/${name}.yaml`, "utf8")), name);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.record;
}

const named = (name: string): Site =>
  siteNamed("creamery", (text) => text.replace("Hennick creamery", `"${name}"`));

const digest = (text: string): string => createHash("sha256").update(text).digest("hex");

function issue(kind: "owner-notice" | "design-record", site: Site, language: "en" | "es" = "en") {
  const input = kind === "owner-notice" ? noticeInput(site) : jsonOf(site);
  return issueOf({ kind, of: site.id, language, input, today: DAY, version: "check" }, digest);
}

async function written(name: string, paper: Paper): Promise<string> {
  const file = join(folder, name);
  writeFileSync(file, (await paperPdf(paper, typesetter)).bytes);
  return file;
}

const read = (program: string, ...words: string[]): string =>
  execFileSync(program, words, { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] });

/** Families of the fonts inside a PDF, whatever their weight. */
function fontFamilies(file: string): readonly string[] {
  const lines = read("pdffonts", file).trim().split("\n").slice(2);
  return [...new Set(lines.map((line) => /\+(\w+)/u.exec(line)![1]!))].sort();
}

describe("PDF, by poppler and qpdf", async () => {
  const site = siteNamed("creamery");
  const notice = await written("notice.pdf", ownerNotice(site, issue("owner-notice", site)));
  const design = await written("design.pdf", designRecord(site, issue("design-record", site)));

  it.each([
    ["the owner's notice", notice],
    ["the design record", design],
  ])("%s is sound, tagged, and has its fonts inside", (_, file) => {
    expect(read("qpdf", "--check", file)).toContain("No syntax or stream encoding errors found");
    expect(read("pdfinfo", file)).toMatch(/Tagged:\s+yes/u);
    const fonts = read("pdffonts", file).trim().split("\n").slice(2);
    expect(fonts.length).toBeGreaterThan(0);
    for (const font of fonts) expect(font).toMatch(/ yes yes yes /u);
  });

  it("the owner's notice is one page of at most 150 kB in both languages", async () => {
    const spanish = await written("aviso.pdf", ownerNotice(site, issue("owner-notice", site, "es")));
    for (const file of [notice, spanish]) {
      expect(read("pdfinfo", file)).toMatch(/Pages:\s+1\n/u);
      expect(readFileSync(file).length).toBeLessThanOrEqual(150_000);
    }
    expect(read("pdftotext", spanish, "-")).toContain("defecto a tierra");
  });

  it("the design record prints the engine's figures", () => {
    const text = read("pdftotext", "-layout", design, "-").replaceAll("\u00a0", " ");
    const [array] = assessSite(site, { onDate: DAY }).arrays;
    expect(text).toContain(`${Number(array!.maxVoltage!.volts.toPrecision(4))} V`);
    expect(text).toContain(`${array!.insulationThreshold!.ohms / 1000} kΩ`);
    expect(text).toContain(array!.duty.rulePack);
  });

  it("names in letters that no font has neither stop the paper nor vanish from it", async () => {
    const odd = named("ᚠᚢᚦ مرحبا 𓀀 \\u202e evil ".repeat(6).trim());
    const paper = ownerNotice(odd, issue("owner-notice", odd));
    const { notDrawn } = await paperPdf(paper, typesetter);
    expect(notDrawn).toBe("U+16A0 U+16A2 U+16A6 U+13000");
    expect(read("pdftotext", await written("odd.pdf", paper), "-")).toContain("□□□");
  });

  it.each([
    ["Chinese", "上海浦东新区光伏电站2号屋顶", ["NotoSansSC"]],
    ["Chinese in its older letters", "臺灣陽光發電廠 Tainan", ["NotoSansSC"]],
    ["Japanese", "東京ひかり太陽光発電所・髙﨑（第２ヤード）", ["NotoSansJP"]],
    ["Korean", "서울 햇빛 발전소 2호기", ["NotoSansKR"]],
    ["rare ideographs that one font alone has", "𠮷野 濵田 㐂一 们", ["NotoSansJP", "NotoSansSC"]],
    ["emoji, joined, toned, of flags", "Sunny 🌞 farm 🐄🚜 👨‍👩‍👧 👍🏽 🇪🇸", ["NotoEmoji"]],
  ])("a name in %s is drawn, and comes back exactly", async (script, name, families) => {
    const site = named(name);
    const paper = ownerNotice(site, issue("owner-notice", site));
    const { bytes, notDrawn } = await paperPdf(paper, typesetter);
    expect(notDrawn).toBe("");
    expect(bytes.length).toBeLessThanOrEqual(150_000);
    const file = await written(`${script}.pdf`, paper);
    expect(read("pdftotext", file, "-").split("\n")[0]).toBe(name);
    expect(read("pdfinfo", file)).toMatch(/Pages:\s+1\n/u);
    expect(fontFamilies(file)).toEqual(["DejaVuSans", ...families]);
  });

  it("words from right to left come back beside ideographs", async () => {
    const words = ["مرحبا", "بالعالم", "漢字", "שלום", "עולם"];
    const site = named(words.join(" "));
    const file = await written("both.pdf", ownerNotice(site, issue("owner-notice", site)));
    const text = read("pdftotext", file, "-");
    for (const word of words) expect(text).toContain(word);
  });

  it("a paper without such letters holds the first font alone", () => {
    expect(fontFamilies(notice)).toEqual(["DejaVuSans"]);
    expect(fontFamilies(design)).toEqual(["DejaVuSans"]);
  });
});

describe("the calendar, by icalendar", () => {
  it("holds a whole-day event for each thing due, on its day", () => {
    const file = join(folder, "due.ics");
    writeFileSync(file, calendarFeed([siteNamed("creamery")], DAY));
    const script =
      "import sys,icalendar;c=icalendar.Calendar.from_ical(open(sys.argv[1],'rb').read());" +
      "[print(e.decoded('dtstart').isoformat(),e['summary'],sep='|') for e in c.walk('VEVENT')]";
    const events = read("/usr/bin/python3", "-c", script, file).trim().split("\n");
    // Proofs of 2026-02-03 in the file, twelve months on.
    expect(events).toContain("2027-02-03|Drill of path P1: Hennick creamery");
    expect(events).toContain("2027-02-03|Proof with a test resistor of path P2: Hennick creamery");
    expect(events).toContain("2027-02-03|Review of the owner's notice: Hennick creamery");
    expect(events).toHaveLength(4);
  });
});

describe("the register as XLSX, by openpyxl", () => {
  it("has the rows of the table, days as days, and the same bytes twice", async () => {
    const table = registerTable([siteNamed("creamery"), siteNamed("bakery")], DAY);
    const bytes = await sheetXlsx(table);
    expect(Buffer.compare(bytes, await sheetXlsx(table))).toBe(0);
    const file = join(folder, "register.xlsx");
    writeFileSync(file, bytes);
    const script =
      "import sys,json,openpyxl;w=openpyxl.load_workbook(sys.argv[1]).active;" +
      "print(json.dumps([[('' if v is None else v.date().isoformat() if hasattr(v,'date') else v) for v in r] for r in w.values]))";
    const rows = JSON.parse(read("/usr/bin/python3", "-c", script, file)) as unknown;
    expect(rows).toEqual([table.columns.map(({ head }) => head), ...table.rows]);
  });
});

describe("the signature, by openssl", () => {
  it("is an Ed25519 signature of the bytes of the file", () => {
    const { privateKey, publicKey } = generateKeyPairSync("ed25519");
    const bytes = Buffer.from("a paper");
    const sign = signerOf(privateKey.export({ format: "pem", type: "pkcs8" }).toString())!;
    const signature = readSignature(sign("paper.pdf", bytes))!;
    const at = (name: string): string => join(folder, name);
    writeFileSync(at("paper.pdf"), bytes);
    writeFileSync(at("raw.sig"), Buffer.from(signature.signature, "base64"));
    writeFileSync(at("public.pem"), publicKey.export({ format: "pem", type: "spki" }));
    const words = [
      "pkeyutl",
      "-verify",
      "-pubin",
      "-inkey",
      at("public.pem"),
      "-rawin",
      "-in",
      at("paper.pdf"),
    ];
    expect(read("openssl", ...words, "-sigfile", at("raw.sig"))).toContain("Successfully");
  });
});
