import {
  assessSite,
  coverageReport,
  loopReport,
  noticeReport,
  type RulePack,
  rulesUsed,
  type Site,
} from "@earthbell/engine";
import { cautionBox } from "../../content/caution-box.ts";
import type { Block, Paper } from "../../content/paper.ts";
import { siteName } from "../../content/site-name.ts";
import type { Issue } from "../../identity/issue.ts";
import { arraySection, findingsTable } from "./array-section.ts";
import { coverageSection } from "./coverage-section.ts";
import { noticeSection } from "./notice-section.ts";
import { pathSection } from "./path-section.ts";

/** Arrays, and paths, that one record spells out; a larger site is split by its owner. */
const MOST_PARTS = 24;

/**
 * The design record of a site's alarm: the duty of each array with its sources, each path from detector to person with the
 * schematic of its loop, what the detectors see, and how long a fault stays unnoticed. Judged for the date of the paper.
 */
export function designRecord(site: Site, issue: Issue, packs: readonly RulePack[] = []): Paper {
  const onDate = issue.date;
  const assessment = assessSite(site, { onDate, packs });
  const loops = loopReport(site);
  const arrays = assessment.arrays.slice(0, MOST_PARTS);
  const paths = site.paths.slice(0, MOST_PARTS);
  const left = Math.max(assessment.arrays.length - arrays.length, site.paths.length - paths.length);
  return {
    kind: "design-record",
    language: issue.language,
    title: "Design record of the earth-fault alarm",
    subject: siteName(site),
    look: "record",
    issue,
    blocks: [
      {
        kind: "paragraph",
        text: "What the rules require of each array, how a fault reaches a person, and what that was worked out from. It advises licensed people; the local code, the standard and the makers' instructions come first.",
      },
      cautionBox("arrive", "Before anybody works on what is designed here"),
      ...(left === 0 ? [] : [partly(left)]),
      ...arrays.flatMap((array) => arraySection(array, rulesUsed(site, packs, "everything", array.array))),
      ...paths.flatMap((path) => {
        const judged = assessment.paths.find((one) => one.path === path.id)!;
        return pathSection(path, judged, site, loops);
      }),
      ...coverageReport(site, undefined, packs).arrays.slice(0, MOST_PARTS).flatMap(coverageSection),
      ...noticeSection(noticeReport(site, onDate)),
      { kind: "heading", level: 1, text: "Owner" },
      { kind: "paragraph", text: ownerWords(assessment.owner.informed) },
      ...findingsTable(assessment.owner.findings),
      { kind: "heading", level: 1, text: "Sign-off" },
      { kind: "signatures", roles: ["Designed by", "Checked by"] },
    ],
  };
}

function partly(left: number): Block {
  return {
    kind: "paragraph",
    weight: "lead",
    text: `${left} more arrays or paths of this site are not in this record. Divide the site file and make a record of each part.`,
  };
}

function ownerWords(informed: boolean | "unknown"): string {
  return informed === true
    ? "The owner is recorded as told in writing."
    : "No record says that the owner was told in writing.";
}
