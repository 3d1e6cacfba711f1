import type { Finding } from "@earthbell/engine";
import type { VisitOnFile } from "@earthbell/model";
import { cautionBox } from "../../content/caution-box.ts";
import type { Block, Paper } from "../../content/paper.ts";
import type { Issue } from "../../identity/issue.ts";
import { findingSection } from "./finding-section.ts";
import { insulationTable } from "./insulation-table.ts";
import type { ShownPhotos } from "../../pictures/shown-photos.ts";
import { photoBlocks, type PhotoLine } from "./photo-section.ts";
import { conditionWords, readingsTable } from "./readings-table.ts";
import { stringsDrawn } from "./strings-drawn.ts";

export interface VisitFound {
  readonly visit: VisitOnFile;
  readonly finding: Finding;
}

export interface FaultVisit {
  /** What the visit is called: the name of its file. */
  readonly name: string;
  readonly before: VisitFound;
  /** Readings after the repair; null: none yet. */
  readonly after: VisitFound | null;
}

const TIMES = [
  "Alarm operated",
  "Somebody noticed",
  "Acknowledged",
  "On site",
  "Made safe and isolated",
  "Place found",
  "Repaired",
  "Insulation measured again",
  "Put back to work",
] as const;

/**
 * The report of a fault visit: times, readings, the strings drawn with the finding, what was repaired, the insulation before
 * and after, the cause, and the sign-off. What the visit file does not hold is a line to write on.
 */
export function faultReport(
  { name, before, after }: FaultVisit,
  issue: Issue,
  shown: ShownPhotos = new Map(),
): Paper {
  const { visit, finding } = before;
  const photos = [
    ...photoLines(name, "", before),
    ...(after === null ? [] : photoLines(name, "After the repair, ", after)),
  ];
  return {
    kind: "fault-report",
    language: issue.language,
    title: "Report of an earth-fault visit",
    subject: name,
    look: "record",
    issue,
    blocks: [
      cautionBox("arrive", "Before anybody goes back to this array"),
      { kind: "heading", level: 1, text: "What happened when" },
      timeline(),
      { kind: "heading", level: 1, text: "What the readings say" },
      ...findingSection(finding),
      ...stringsDrawn(visit, finding),
      { kind: "heading", level: 1, text: "Readings" },
      { kind: "paragraph", weight: "aside", text: `${conditionWords(visit)} From the visit file.` },
      readingsTable(
        visit.readings.map((reading) => ({ reading })),
        finding,
      ),
      ...repair(photos, shown),
      { kind: "heading", level: 1, text: "Insulation before and after" },
      insulationTable(finding, after?.finding ?? null),
      ...(after === null
        ? []
        : [{ kind: "paragraph", text: `After the repair: ${after.finding.because}` } as const]),
      ...closing(),
    ],
  };
}

function photoLines(of: string, when: string, { visit }: VisitFound): readonly PhotoLine[] {
  return (visit.photos ?? []).map(({ file, shows, on, at, sha256 }) => ({
    ...{ name: file, of, shows: shows ?? null, digest: sha256 ?? null },
    from: `${when === "" ? "T" : `${when}t`}aken ${on}${at === undefined ? "" : `, ${at}`}`,
  }));
}

/** What was found and done, to be written by hand, and the photographs of it. */
function repair(photos: readonly PhotoLine[], shown: ShownPhotos): readonly Block[] {
  return [
    { kind: "heading", level: 1, text: "Repair" },
    cautionBox("open-connector", "Before a connector, fuse or link is parted"),
    {
      kind: "fields",
      rows: [
        { label: "What was found at the place", lines: 2 },
        { label: "What was done, with which parts", lines: 2 },
        ...(photos.length === 0 ? [{ label: "Photographs" }] : []),
      ],
    },
    ...photoBlocks(
      photos,
      shown,
      "Every photograph that the visit files name, with its SHA-256; prints are made smaller",
    ),
  ];
}

function closing(): readonly Block[] {
  return [
    { kind: "heading", level: 1, text: "Cause" },
    {
      kind: "fields",
      rows: [
        { label: "Cause, and how it is known", lines: 2 },
        { label: "Same module type, connector or work elsewhere on this site" },
        { label: "What to do about it elsewhere", lines: 2 },
      ],
    },
    { kind: "heading", level: 1, text: "Sign-off" },
    {
      kind: "checklist",
      items: [
        { text: "Array put back to work, alarm silent." },
        { text: "Path proved again, or the date on which it will be." },
        { text: "Owner told in writing." },
      ],
    },
    { kind: "signatures", roles: ["Repaired by", "Case closed by"] },
  ];
}

function timeline(): Block {
  return {
    kind: "table",
    caption: "",
    toWrite: true,
    columns: [
      { head: "What", share: 0.34 },
      { head: "Date and time", share: 0.28 },
      { head: "By whom, and remarks", share: 0.38 },
    ],
    rows: TIMES.map((what) => [what, "", ""]),
  };
}
