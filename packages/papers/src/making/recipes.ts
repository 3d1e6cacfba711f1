import { type RulePack, rulesUsed, type Site } from "@earthbell/engine";
import { readSettingSheet, readSite, type ReadResult } from "@earthbell/model";
import { joinedRules } from "../content/joined-rules.ts";
import { jsonOf } from "../identity/canonical.ts";
import { designRecord } from "../kinds/design-record/design-record.ts";
import { fleetRegister, registerTable } from "../kinds/fleet-register/fleet-register.ts";
import { ownerNotice } from "../kinds/owner-notice/owner-notice.ts";
import { settingSheetPaper } from "../kinds/setting-sheet/setting-sheet.ts";
import { visitSheet } from "../kinds/visit-sheet/visit-sheet.ts";
import { prepareCommissioning } from "./prepare-commissioning.ts";
import { prepareReport } from "./prepare-report.ts";
import { withRules } from "./rules-input.ts";
import { siteInput, type SitePaper } from "./site-input.ts";
import type { Extra, PaperFormat, Prepared, Recipe, Source } from "./recipe.ts";

const pages: readonly PaperFormat[] = ["pdf", "html"];

type PaperOfSite = (site: Site, packs: readonly RulePack[]) => Prepared["paper"];

/** A paper about one site, from one site file. */
function aboutSite(kind: SitePaper, says: string, paper: PaperOfSite): Recipe {
  return {
    kind,
    says,
    formats: pages,
    languages: ["en"],
    about: "site",
    prepare: ([source], { packs = [] }) =>
      after(readSite(source!.bytes, source!.file), (site) => ({
        of: site.id,
        input: siteInput(kind, site, packs),
        paper: paper(site, packs),
      })),
  };
}

function after<Record>(read: ReadResult<Record>, make: (record: Record) => Prepared): ReadResult<Prepared> {
  return read.ok ? { ...read, record: make(read.record) } : read;
}

const notice: Recipe = {
  ...aboutSite(
    "owner-notice",
    "one page for the owner: what the alarm is and what to do",
    (site) => (issue) => ownerNotice(site, issue),
  ),
  languages: ["en", "es"],
};

const design = aboutSite(
  "design-record",
  "duty, paths, loop, coverage and time to notice, with sources",
  (site, packs) => (issue) => designRecord(site, issue, packs),
);

const commissioning: Recipe = {
  kind: "commissioning-record",
  says: "the tests and the proof of the alarm, to be filled in and signed, or with the results of a file",
  formats: pages,
  languages: ["en"],
  about: "site",
  prepare: ([source], extra) => prepareCommissioning(source!, extra),
};

const sheet = aboutSite(
  "visit-sheet",
  "a sheet for readings by hand, to be typed into a visit file",
  (site) => (issue) => visitSheet(site, issue),
);

const report: Recipe = {
  kind: "fault-report",
  says: "a visit: readings, finding, repair, insulation before and after, sign-off",
  formats: pages,
  languages: ["en"],
  about: "visit",
  prepare: ([source], extra) => prepareReport(source, extra),
};

function prepareRegister(sources: readonly Source[], { packs = [] }: Extra): ReadResult<Prepared> {
  const sites: Site[] = [];
  for (const { bytes, file } of sources) {
    const read = readSite(bytes, file);
    if (!read.ok) return read;
    sites.push(read.record);
  }
  return {
    ok: true,
    warnings: [],
    record: {
      of: "fleet",
      input: withRules(
        jsonOf(sites),
        joinedRules(sites.flatMap((site) => rulesUsed(site, packs, "verdicts"))),
      ),
      paper: (issue) => fleetRegister(sites, issue, packs),
      table: (issue) => registerTable(sites, issue.date, packs),
    },
  };
}

const register: Recipe = {
  kind: "fleet-register",
  says: "every array of many sites: duty, path, last proof, next due",
  formats: ["pdf", "html", "csv", "xlsx"],
  languages: ["en"],
  about: "sites",
  prepare: prepareRegister,
};

const settings: Recipe = {
  kind: "setting-sheet",
  says: "a team's own steps for one family of devices, to be ticked",
  formats: pages,
  languages: ["en"],
  about: "sheet",
  prepare: ([source]) =>
    after(readSettingSheet(source!.bytes, source!.file), (one) => ({
      of: one.id,
      input: jsonOf(one),
      paper: (issue) => settingSheetPaper(one, issue),
    })),
};

/** Every kind of paper, in the order in which they are listed. */
export const recipes: readonly Recipe[] = [notice, design, commissioning, report, register, sheet, settings];
