export { type Paper, PAPER_KINDS, type PaperKind } from "./content/paper.ts";
export { paperHtml } from "./html/paper-html.ts";
export type { Json } from "./identity/canonical.ts";
export { type Digest, type Issue, ISSUE_FORMAT, issueOf, paperNumber } from "./identity/issue.ts";
export { type Language, LANGUAGES } from "./language/language.ts";
export { glyphCoverage } from "./pdf/glyph-coverage.ts";
export { paperPdf, type Typesetter } from "./pdf/paper-pdf.ts";
export { noticeInput } from "./kinds/owner-notice/notice-facts.ts";
export { ownerNotice } from "./kinds/owner-notice/owner-notice.ts";
