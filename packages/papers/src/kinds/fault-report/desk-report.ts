import type { Case, MeasuredInsulation } from "@earthbell/model";
import { cautionBox } from "../../content/caution-box.ts";
import type { Block, Fields, Paper, Signatures } from "../../content/paper.ts";
import { quantityWords } from "../../content/quantity-words.ts";
import type { Issue } from "../../identity/issue.ts";
import type { ShownPhotos } from "../../pictures/shown-photos.ts";
import { milestones, timelineTable, toldTable } from "./case-section.ts";
import { type FaultRecords, type VisitPart, visitParts } from "./fault-records.ts";
import { instantIn } from "./instant-words.ts";
import { insulationTable } from "./insulation-table.ts";
import { photoSection } from "./photo-section.ts";
import { partBlocks, visitBlocks } from "./visit-section.ts";

/**
 * The report of an earth fault from what the desk has on record: the case from its first sign to its signed close, whoever was
 * told, and every visit with everybody's entries. What the records do not hold is a line to write on.
 */
export function deskReport(records: FaultRecords, issue: Issue, photos: ShownPhotos = new Map()): Paper {
  const { site, case: one, told, visits } = records;
  const parts = visitParts(records);
  return {
    kind: "fault-report",
    language: issue.language,
    title: one === null ? "Report of an earth-fault visit" : "Report of an earth fault",
    subject: `${site.name ?? site.id}${one === null ? "" : `, array ${one.array}, case ${one.id}`}`,
    look: "record",
    issue,
    blocks: [
      cautionBox("arrive", "Before anybody goes back to this array"),
      ...(one === null
        ? []
        : [{ kind: "paragraph", weight: "lead", text: standingWords(one, site.zone) } as const]),
      { kind: "heading", level: 1, text: "What happened when" },
      ...milestones(records),
      ...(told.length === 0
        ? []
        : [{ kind: "heading", level: 1, text: "Who was told" } as const, toldTable(records)]),
      ...parts.flatMap((part) => partBlocks(part, site.zone)),
      ...visits.flatMap((visit) => visitBlocks(visit, site.zone)),
      ...photoSection(records, photos),
      { kind: "heading", level: 1, text: "Cause and repair" },
      cautionBox("open-connector", "Before a connector, fuse or link is parted"),
      causeFields(one, site.zone),
      { kind: "heading", level: 1, text: "Insulation before and after" },
      ...insulation(parts, one?.measured ?? null, site.zone),
      ...closing(one, site.zone),
    ],
  };
}

function standingWords({ closed, recurrenceOf }: Case, zone: string): string {
  const again = recurrenceOf === null ? "" : ` It is the fault of case ${recurrenceOf} come back.`;
  if (closed === null) return `This case is not closed yet.${again}`;
  return `Closed by ${closed.by}, ${instantIn(zone, closed.at)}.${again}`;
}

function causeFields(one: Case | null, zone: string): Fields {
  const cause = one?.cause ?? null;
  const repaired =
    cause === null
      ? null
      : cause.repairedAt === null
        ? "nothing was repaired"
        : instantIn(zone, cause.repairedAt);
  return {
    kind: "fields",
    rows: [
      cause === null
        ? { label: "Cause, and how it is known", lines: 2 }
        : { label: "Cause", value: `${cause.cause} (signed by ${cause.by}, ${instantIn(zone, cause.at)})` },
      repaired === null ? { label: "Repaired" } : { label: "Repaired", value: repaired },
      { label: "What was done, with which parts", lines: 2 },
      { label: "Same module type, connector or work elsewhere on this site" },
    ],
  };
}

/** By the readings of the visits, and by the measurement that the case closes on. */
function insulation(
  parts: readonly VisitPart[],
  measured: MeasuredInsulation | null,
  zone: string,
): readonly Block[] {
  const last = (when: VisitPart["when"]): VisitPart["finding"] =>
    parts.findLast((part) => part.when === when && part.finding !== null)?.finding ?? null;
  const [before, after] = [last("before"), last("after")];
  return [
    insulationTable(before, after),
    ...(after === null ? [] : [{ kind: "paragraph", text: `After the repair: ${after.because}` } as const]),
    ...(measured === null ? [] : measuredBlocks(measured, zone)),
  ];
}

function measuredBlocks({ ohms, required, by, at }: MeasuredInsulation, zone: string): readonly Block[] {
  const reaches = ohms >= required.value;
  return [
    {
      kind: "figures",
      caption: "The measurement that the case closes on",
      rows: [
        {
          label: "Insulation after the repair",
          value: quantityWords(ohms, "resistance", 6),
          source: `measured by ${by}, ${instantIn(zone, at)}`,
          tag: "user",
        },
        {
          label: "Required at least",
          value: quantityWords(required.value, "resistance", 6),
          source: required.source,
          tag: required.tag,
        },
      ],
    },
    {
      kind: "paragraph",
      weight: "lead",
      text: reaches
        ? "It reaches what is required."
        : "It is too low: the fault, or another one, is still there.",
    },
  ];
}

function closing(one: Case | null, zone: string): readonly Block[] {
  const told = one?.ownerTold ?? null;
  const document = told?.document ?? null;
  return [
    { kind: "heading", level: 1, text: "Sign-off" },
    {
      kind: "checklist",
      items: [
        { text: "Array put back to work, alarm silent." },
        { text: "Path proved again, or the date on which it will be." },
        {
          text: "Owner told in writing.",
          ...(told === null
            ? {}
            : {
                note: `On record: ${told.by}, ${instantIn(zone, told.at)}${document === null ? "" : `, ${document}`}`,
              }),
        },
      ],
    },
    signaturesOf(one, zone),
    ...(one === null
      ? []
      : [{ kind: "heading", level: 1, text: "The whole history" } as const, timelineTable(one, zone)]),
  ];
}

function signaturesOf(one: Case | null, zone: string): Signatures {
  const [repaired, closed] = ["Cause signed by", "Case closed by"];
  const named = (role: string, step: { readonly by: string; readonly at: number } | null | undefined) =>
    step === null || step === undefined
      ? []
      : [{ role, name: step.by, on: instantIn(zone, step.at).slice(0, 10) }];
  return {
    kind: "signatures",
    roles: [repaired, closed],
    named: [...named(repaired, one?.cause), ...named(closed, one?.closed)],
  };
}
