import type { Site } from "@earthbell/engine";
import {
  type Commissioning,
  type HeldSheet,
  readCommissioning,
  readSettingSheet,
  readSite,
} from "@earthbell/model";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { paperHtml } from "../../html/paper-html.ts";
import { issueOf } from "../../identity/issue.ts";
import { commissioningRecord, type MadeFrom } from "./commissioning-record.ts";

const open = (file: string): string => readFileSync(`demo/${file}`, "utf8");
function sound<Record>(
  read: { readonly ok: true; readonly record: Record } | { readonly ok: false },
): Record {
  if (!read.ok) throw new Error(JSON.stringify(read));
  return read.record;
}
const site: Site = sound(readSite(open("sites/creamery.yaml"), "s.yaml"));
const measured: Commissioning = sound(
  readCommissioning(
    open("commissioning/creamery-2026-02-03.yaml").replace(/^settings:[\s\S]*?^drills:/mu, "drills:"),
    "c.yaml",
    null,
  ),
);
const sheet = sound(readSettingSheet(open("settings/gannet-s.yaml"), "g.yaml"));
const held = (digest: string, revision: number | null = 2): HeldSheet => ({ sheet, digest, revision });
const [THEN, NOW] = ["a".repeat(64), "b".repeat(64)];

type Tick = Commissioning["settings"][number]["steps"][number];
const done = { done: true, by: "M. Orrin", on: "2026-02-03", at: "08:10" } as const;
function ticked(...ticks: readonly Partial<Tick>[]): Commissioning {
  const steps = sheet.steps.map((one, at) => ({ step: at + 1, do: one.do, ...(ticks[at] ?? {}) }));
  const settings = { sheet: "gannet-s", title: "Gannet S", revision: 1, digest: THEN, device: "INV1" };
  return { ...measured, settings: [{ ...settings, firmware: "4.3", steps }] };
}
function html(made: MadeFrom): string {
  const request = { kind: "commissioning-record" as const, of: site.id, language: "en" as const };
  const issue = issueOf({ ...request, input: {}, today: "2026-02-03", version: "1" }, () => THEN);
  return paperHtml(commissioningRecord(site, issue, made))
    .replaceAll("&#39;", "'")
    .replace(/<span class="whole">([^<]*)<\/span>/gu, "$1")
    .replaceAll("\u00a0", " ");
}

describe("setting sheets in a commissioning record", () => {
  it("are complete where every step is ticked, and name the sheet, who ticked each step and when", () => {
    const page = html({
      results: ticked(done, { ...done, found: "30 kΩ" }, done, done),
      sheets: [held(THEN)],
    });
    expect(page).toContain("4 of 4 steps of setting sheets ticked");
    expect(page).not.toContain("Not complete");
    expect(page).toContain("setting-sheet gannet-s, revision 1");
    expect(page).toContain(THEN);
    expect(page).toContain("M. Orrin, 2026-02-03, 08:10");
    expect(page).toContain("30 kΩ");
    expect(page).toContain("The firmware found is another than the one that the sheet was written for.");
  });

  it("are not complete with a step that is open or was not done, which the top of the record says", () => {
    const because = "the menu does not offer it";
    const page = html({ results: ticked(done, done, { done: false, because }), sheets: [held(THEN)] });
    const top = page.slice(0, page.indexOf("Work done on"));
    expect(top).toContain("Not complete: not every step of a setting sheet is ticked.");
    expect(top).toContain("2 of 4 steps of setting sheets ticked");
    expect(top).toContain(`Not done: setting sheet gannet-s, revision 1, on INV1, step 3: ${because}`);
    expect(top).toContain("Not ticked: setting sheet gannet-s, revision 1, on INV1, step 4");
    // Somebody may still do it, so its caution stands before the list.
    const caution = page.indexOf("Before step 4: Tell the owner beforehand");
    expect(caution).toBeGreaterThan(0);
    expect(caution).toBeLessThan(page.indexOf("▲ not done"));
  });

  it("say that the sheet has changed since, and do not print its new words as those that were ticked", () => {
    const page = html({ results: ticked(done, done, done, done), sheets: [held(NOW, 3)] });
    expect(page).toContain("Changed since it was ticked: setting sheet gannet-s, revision 1, on INV1");
    expect(page).toContain(`Revision 3 holds other words, under the digest ${NOW}`);
    expect(page).not.toContain("Set to: the insulation threshold");
  });

  it("say that nothing was compared where the sheet is not at hand", () => {
    const page = html({ results: ticked(done, done, done, done) });
    expect(page).toContain("were not compared with it");
  });

  it("that were given with results that do not name them stand there with nothing ticked", () => {
    const page = html({ results: measured, sheets: [held(NOW, null)] });
    expect(page).toContain("0 of 4 steps of setting sheets ticked");
    expect(page).toContain("gannet-s, not issued");
    expect(page).toContain("Not complete");
  });

  it("are to be ticked by hand, cautions first, in a record without results", () => {
    const page = html({ sheets: [held(NOW)] });
    expect(page.indexOf("The service cover carries")).toBeLessThan(page.indexOf("1. Sign in as installer"));
    expect(page).toContain("Before step 4");
    expect(html({})).toContain("Sheets ticked, by number and revision");
  });
});
