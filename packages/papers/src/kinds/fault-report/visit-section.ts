import { describeReading } from "@earthbell/engine";
import {
  conflictsOf,
  type HandedVisit,
  notesOf,
  type ReadingEntry,
  takenAway,
  type VisitEntry,
} from "@earthbell/model";
import type { Block, Table } from "../../content/paper.ts";
import type { VisitPart } from "./fault-records.ts";
import { findingSection } from "./finding-section.ts";
import { instantIn } from "./instant-words.ts";
import { conditionWords, readingsTable } from "./readings-table.ts";
import { stringsDrawn } from "./strings-drawn.ts";

/** One part of a visit: what its readings say, the strings drawn, and each reading with who took it. */
export function partBlocks(
  { visit, when, readings, file, finding, because }: VisitPart,
  zone: string,
): readonly Block[] {
  const title = `${visit.title}: readings ${when === "before" ? "of the fault" : "after the repair"}`;
  const begun = `Begun by ${visit.by}, ${instantIn(zone, visit.begunAt)}.`;
  return [
    { kind: "heading", level: 1, text: title },
    {
      kind: "paragraph",
      weight: "aside",
      text: `${begun} ${conditionWords(file)} As handed over to the desk.`,
    },
    ...(finding === null ? [] : [...findingSection(finding), ...stringsDrawn(file, finding)]),
    ...(because === null ? [] : [{ kind: "paragraph", weight: "lead", text: because } as const]),
    ...(readings.length === 0
      ? []
      : [
          readingsTable(
            readings.map(({ reading, by, at }) => ({
              reading,
              taken: `${by ?? "not known"}, ${instantIn(zone, at)}`,
            })),
            finding,
          ),
        ]),
  ];
}

/** What belongs to a visit as a whole: contradictions, what was taken away, findings on record and notes. */
export function visitBlocks(visit: HandedVisit, zone: string): readonly Block[] {
  const { entries } = visit;
  const gone = takenAway(entries);
  const found = entries.filter((entry) => entry.kind === "found");
  const notes = notesOf(entries).filter(({ text }) => text.trim() !== "");
  const said = ({ by, at }: VisitEntry): string => `${by ?? "not known"}, ${instantIn(zone, at)}`;
  const blocks: readonly Block[] = [
    ...conflictBlocks(entries, said),
    ...passedOver(entries, gone, said),
    ...found.map(
      (entry) => ({ kind: "paragraph", text: `Put on record by ${said(entry)}: ${entry.text}` }) as const,
    ),
    ...notes.map((entry) => ({ kind: "paragraph", text: `Notes, ${said(entry)}: ${entry.text}` }) as const),
  ];
  return blocks.length === 0
    ? []
    : [{ kind: "heading", level: 2, text: `On record of ${visit.title}` }, ...blocks];
}

type Said = (entry: VisitEntry) => string;

function conflictBlocks(entries: readonly VisitEntry[], said: Said): readonly Block[] {
  const conflicts = conflictsOf(entries);
  if (conflicts.length === 0) return [];
  return [
    {
      kind: "paragraph",
      weight: "lead",
      text: "Readings of one thing contradict each other and nobody has settled it. The calculation uses all of them.",
    },
    {
      ...entryTable(
        "Readings that contradict each other",
        conflicts.flatMap((conflict, at) =>
          conflict.map((entry) => [`${at + 1}`, describeReading(entry.reading), said(entry)]),
        ),
      ),
    },
  ];
}

function passedOver(entries: readonly VisitEntry[], gone: ReadonlySet<string>, said: Said): readonly Block[] {
  const away = entries.filter(
    (entry): entry is ReadingEntry => entry.kind === "reading" && gone.has(entry.id),
  );
  if (away.length === 0) return [];
  const byWhom = (id: string): string => {
    const by = entries.findLast(
      (entry) =>
        (entry.kind === "drop" && entry.of === id) || (entry.kind === "choose" && entry.over.includes(id)),
    );
    if (by === undefined) return "";
    return `${by.kind === "drop" ? "taken away by" : "passed over by"} ${said(by)}`;
  };
  const rows = away.map((entry, at) => [
    `${at + 1}`,
    describeReading(entry.reading),
    [said(entry), byWhom(entry.id)].filter((one) => one !== "").join("; "),
  ]);
  return [entryTable("Readings that were taken away and do not count", rows)];
}

function entryTable(caption: string, rows: Table["rows"]): Table {
  return {
    kind: "table",
    caption,
    columns: [
      { head: "No.", share: 0.08 },
      { head: "Reading", share: 0.46 },
      { head: "Who and when", share: 0.46 },
    ],
    rows,
  };
}
