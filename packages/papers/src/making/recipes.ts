import { locate, type RulePack, rulesUsed, type Site, type Visit } from "@earthbell/engine";
import { readSettingSheet, readSite, readVisit, type ReadResult } from "@earthbell/model";
import { joinedRules } from "../content/joined-rules.ts";
import { jsonOf } from "../identity/canonical.ts";
import { designRecord } from "../kinds/design-record/design-record.ts";
import { deskReport } from "../kinds/fault-report/desk-report.ts";
import { reportedPhotos } from "../kinds/fault-report/photo-section.ts";
import { faultReport } from "../kinds/fault-report/fault-report.ts";
import { fleetRegister, registerTable } from "../kinds/fleet-register/fleet-register.ts";
import { ownerNotice } from "../kinds/owner-notice/owner-notice.ts";
import { settingSheetPaper } from "../kinds/setting-sheet/setting-sheet.ts";
import { visitSheet } from "../kinds/visit-sheet/visit-sheet.ts";
import { prepareCommissioning } from "./prepare-commissioning.ts";
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

function visitOf(source: Source): ReadResult<Visit> {
  return readVisit(source.bytes, source.file);
}

function prepareReport(source: Source | undefined, { after: later, records }: Extra): ReadResult<Prepared> {
  if (records !== undefined) {
    const paper: Prepared["paper"] = (issue, photos) => deskReport(records, issue, photos);
    const photos = reportedPhotos(records).map(({ photo }) => photo.digest);
    return { ok: true, warnings: [], record: { of: records.name, input: jsonOf(records), photos, paper } };
  }
  if (source === undefined) throw new Error("a report is made from a visit file or from records");
  const read = visitOf(source);
  const second = later === undefined ? null : visitOf(later);
  if (!read.ok) return read;
  if (second !== null && !second.ok) return second;
  const before = { visit: read.record, finding: locate(read.record) };
  const repaired = second === null ? null : { visit: second.record, finding: locate(second.record) };
  return {
    ...read,
    record: {
      of: source.stem,
      input: jsonOf({ before: before.visit, after: repaired?.visit }),
      paper: (issue) => faultReport({ name: source.stem, before, after: repaired }, issue),
    },
  };
}

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
