import { CAUTIONS, type Site } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { issueOf } from "./identity/issue.ts";
import { jsonOf } from "./identity/canonical.ts";
import { fileName } from "./identity/file-name.ts";
import { paperHtml } from "./html/paper-html.ts";
import { commissioningRecord } from "./kinds/commissioning-record/commissioning-record.ts";
import { ownerNotice } from "./kinds/owner-notice/owner-notice.ts";
import { visitSheet } from "./kinds/visit-sheet/visit-sheet.ts";
import { registerRows } from "./kinds/fleet-register/register-rows.ts";
import { blockHtml } from "./html/block-html.ts";
import { FRAME_WORDS } from "./language/frame-words.ts";
import { CAUTIONS_IN_SPANISH } from "./language/cautions-in-spanish.ts";
import { dayWords } from "./language/language.ts";
import { DrawableText } from "./pdf/drawable-text.ts";
import { sheetCsv } from "./sheets/sheet-csv.ts";
import { calendarFeed } from "./calendar/calendar-feed.ts";
import type { PaperKind } from "./content/paper-kind.ts";

const site = {
  id: "mill",
  name: "Mill <b>&",
  place: { country: "AU" },
  modules: [{ id: "M", pmax: 400, voc: 48 }],
  inverters: [
    { id: "INV1", ratedPower: 10_000, where: { description: "by the door", viewingDistance: 2.5 } },
  ],
  arrays: [{ id: "A1", inverter: "INV1", module: "M", strings: [{ id: "S1", modules: 10 }] }],
  people: [{ id: "desk", role: "service", address: { phone: "555 0100" } }],
  paths: [{ id: "P1", arrays: ["A1"], signal: "indicator" }],
  proofs: [{ path: "P1", kind: "drill", on: "2026-01-31" }],
} as unknown as Site;

const issue = (kind: PaperKind, language: "en" | "es" = "en") =>
  issueOf({ kind, of: site.id, language, input: jsonOf(site), today: "2026-11-25", version: "1" }, (text) =>
    text.slice(0, 8),
  );

describe("the owner's notice", () => {
  const html = paperHtml(ownerNotice(site, issue("owner-notice")));

  it("says what never to do before what to do", () => {
    expect(html.indexOf("Never")).toBeGreaterThan(0);
    expect(html.indexOf("Never")).toBeLessThan(html.indexOf("Now do this"));
    expect(html).toContain("last read on 25 November 2026");
  });

  it("names whom to call, where the light is, and that any fault sets it off", () => {
    expect(html).toContain("desk (555 0100)");
    expect(html).toContain("by the door");
    expect(html).toContain("any fault of the inverter");
  });

  it("shows a name as text and fetches nothing", () => {
    expect(html).toContain("Mill &lt;b&gt;&amp;");
    expect(html).not.toMatch(/(?:src|href)="(?!data:)/u);
    expect(
      decodeURIComponent(html.replaceAll("%", "%25")).replaceAll("http://www.w3.org/2000/svg", ""),
    ).not.toMatch(/https?:\/\//u);
  });

  it("says nothing of what sets an alarm off or stops it where none is on record", () => {
    const without = paperHtml(ownerNotice({ ...site, paths: [] }, issue("owner-notice")));
    expect(without).toContain("No alarm is on record for this site");
    for (const heading of ["What else sets it off", "To stop the sound or the messages"]) {
      expect(paperHtml(ownerNotice(site, issue("owner-notice")))).toContain(heading);
      expect(without).not.toContain(heading);
    }
  });

  it("is in Spanish with Spanish decimals when asked", () => {
    const spanish = paperHtml(ownerNotice(site, issue("owner-notice", "es")));
    expect(spanish).toContain('lang="es"');
    expect(spanish).toContain("2,5\u00a0m");
    expect(spanish).toContain("Nunca");
  });
});

describe("papers that lead to work", () => {
  it.each([
    ["the commissioning record", commissioningRecord(site, issue("commissioning-record"))],
    ["the visit sheet", visitSheet(site, issue("visit-sheet"))],
  ])("%s begins with cautions that say when they were read", (_, paper) => {
    const [block] = paper.blocks;
    expect(block?.kind).toBe("cautions");
    expect(block?.kind === "cautions" ? block.reviewed : "").toContain("last read");
  });

  it("every caution is written in Spanish", () => {
    expect(Object.keys(CAUTIONS_IN_SPANISH).sort()).toEqual(CAUTIONS.map(({ id }) => id).sort());
  });
});

describe("words and files", () => {
  it("writes days as each language does", () => {
    expect([dayWords("2026-03-01", "en"), dayWords("2026-03-01", "es")]).toEqual([
      "1 March 2026",
      "1 de marzo de 2026",
    ]);
  });

  it("stands a box for what cannot be drawn, drops what steers the reading, and says which", () => {
    const text = new DrawableText((codePoint) => codePoint < 0x250);
    expect(text.of("a漢\u202Eb\u200Dc")).toBe("a□bc");
    expect(text.missing).toBe("U+6F22");
  });

  it("keeps a day together in a cell, and no figure that only looks like one", () => {
    const columns = [{ head: "a", share: 1 }];
    const html = blockHtml(
      { kind: "table", caption: "", columns, rows: [["on 2026-03-01 <", "au-nz-2026-03-012"]] },
      FRAME_WORDS.en,
    );
    expect(html).toContain('<td>on <span class="whole">2026-03-01</span> &lt;</td>');
    expect(html).toContain("au-nz-2026-03-012");
  });

  it("keeps a name that is no file name out of other folders and apart from its neighbours", () => {
    const digest = (text: string): string => Buffer.from(text).toString("hex").slice(-8);
    expect(fileName("owner-notice mill", digest)).toBe("owner-notice-mill");
    expect(fileName("owner-notice ../a", digest)).toMatch(/^[\w-]+$/u);
    expect(new Set(["x a/b", "x a-b", "x a b"].map((one) => fileName(one, digest))).size).toBe(3);
  });

  it("quotes CSV and keeps a formula from running", () => {
    const columns = [{ head: "a", width: 1, kind: "text" as const }];
    expect(sheetCsv({ name: "t", columns, rows: [["=1+1"], ['say "x", y']] })).toBe(
      '\uFEFFa\r\n\'=1+1\r\n"say ""x"", y"\r\n',
    );
  });

  it("is due twelve months after the newest proof, on the last day of a short month", () => {
    const leap = { ...site, proofs: [{ path: "P1", kind: "drill", on: "2027-02-28" }] } as unknown as Site;
    expect(registerRows([leap], "2027-03-01")[0]).toMatchObject({
      lastProof: "2027-02-28",
      nextDue: "2028-02-28",
      overdue: false,
    });
    expect(registerRows([site], "2027-02-01")[0]).toMatchObject({ nextDue: "2027-01-31", overdue: true });
  });

  it("folds long lines of the calendar at 75 octets without tearing a character", () => {
    const long = { ...site, name: "é漢".repeat(60) };
    const lines = calendarFeed([long], "2026-11-25").split("\r\n");
    for (const line of lines) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
    expect(lines.join("\n").replaceAll("\n ", "")).toContain("é漢".repeat(60));
  });
});
