export { calendarFeed } from "./calendar/calendar-feed.ts";
export { PAPER_KINDS, type PaperKind } from "./content/paper-kind.ts";
export type { Paper } from "./content/paper.ts";
export { paperHtml } from "./html/paper-html.ts";
export { canonicalJson, type Json, jsonOf } from "./identity/canonical.ts";
export type { InputChange } from "./identity/compare-inputs.ts";
export { fileName, revisionName } from "./identity/file-name.ts";
export { type Digest, type Issue, issueOf, paperNumber } from "./identity/issue.ts";
export { type IssuedFile, type IssueRecord, recordAfter, type Revision } from "./identity/issue-record.ts";
export { issueText, readIssue } from "./identity/read-issue.ts";
export {
  judgeSignature,
  readSignature,
  type SignatureVerdict,
  signatureText,
  type Verify,
} from "./identity/signature.ts";
export { commissioningRecord } from "./kinds/commissioning-record/commissioning-record.ts";
export { designRecord } from "./kinds/design-record/design-record.ts";
export { type FaultRecords } from "./kinds/fault-report/fault-records.ts";
export { faultReport } from "./kinds/fault-report/fault-report.ts";
export { fleetRegister, registerTable } from "./kinds/fleet-register/fleet-register.ts";
export { noticeInput } from "./kinds/owner-notice/notice-facts.ts";
export { ownerNotice } from "./kinds/owner-notice/owner-notice.ts";
export { settingSheetPaper } from "./kinds/setting-sheet/setting-sheet.ts";
export { visitSheet } from "./kinds/visit-sheet/visit-sheet.ts";
export { type Language, LANGUAGES } from "./language/language.ts";
export { heldSheet } from "./making/held-sheet.ts";
export {
  type IssueFolder,
  issueNow,
  type MadePaper,
  makePaper,
  type Maker,
  type Making,
} from "./making/make-paper.ts";
export {
  type Extra,
  PAPER_FORMATS,
  type PaperFormat,
  type PhotoFile,
  type Prepared,
  type Recipe,
  type Source,
} from "./making/recipe.ts";
export { type JobResult, type JobTools, type PaperJob, runJob } from "./making/paper-job.ts";
export { recipes } from "./making/recipes.ts";
export {
  hasResults,
  SITE_PAPERS,
  type SiteDigests,
  siteDigestOf,
  siteDigests,
  type SitePaper,
} from "./making/site-input.ts";
export { type Draws, glyphCoverage } from "./pdf/glyph-coverage.ts";
export { paperPdf, type Setting, type Typesetter } from "./pdf/paper-pdf.ts";
export { photoKind } from "./pictures/photo-kind.ts";
export { type PhotoTools, type PictureCodecs, unprintable } from "./pictures/shown-photos.ts";
export type { Pixels } from "./pictures/shrink.ts";
export { sheetCsv } from "./sheets/sheet-csv.ts";
export type { SheetTable } from "./sheets/sheet-table.ts";
export { sheetXlsx } from "./sheets/sheet-xlsx.ts";
