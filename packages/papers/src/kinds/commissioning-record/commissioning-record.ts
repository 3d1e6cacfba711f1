import { type PathProof, proofPlan, type Site } from "@earthbell/engine";
import type { Block, Paper } from "../../content/paper.ts";
import { cautionBox } from "../../content/caution-box.ts";
import { siteName } from "../../content/site-name.ts";
import type { Issue } from "../../identity/issue.ts";
import { stepBlocks } from "./step-blocks.ts";

/** Steps whose result for an array holds for every path on it, tested on the same day. */
const OF_THE_ARRAY: ReadonlySet<string> = new Set([
  "earth-continuity",
  "polarity",
  "open-circuit-voltage",
  "insulation-test",
]);
const INSTRUMENT_LINES = 5;

/**
 * The record of commissioning and of the proof of each path, to be filled in by hand: tests in order, each with its cautions
 * and what must be recorded before it, what it should show and where that comes from, lines for reading, instrument and
 * result, then the drill and the signatures.
 */
export function commissioningRecord(site: Site, issue: Issue): Paper {
  const { proofs } = proofPlan(site, { onDate: issue.date });
  const tested = new Set<string>();
  return {
    kind: "commissioning-record",
    language: issue.language,
    title: "Commissioning and proof of the earth-fault alarm",
    subject: siteName(site),
    look: "record",
    issue,
    blocks: [
      cautionBox("arrive", "Before anything is touched"),
      { kind: "fields", rows: [{ label: "Work done on" }, { label: "Done by, with licence number" }] },
      ...conditions(),
      ...(proofs.length === 0
        ? [
            {
              kind: "paragraph",
              text: "The site file names no path that serves an array, so there is nothing to prove.",
            } as const,
          ]
        : proofs.flatMap((proof) => proofBlocks(proof, tested))),
      ...earlier(site),
      { kind: "heading", level: 1, text: "Sign-off" },
      { kind: "signatures", roles: ["Tested by", "Witnessed by", "Handed over to"] },
    ],
  };
}

function conditions(): readonly Block[] {
  const blank = Array.from({ length: INSTRUMENT_LINES }, (_, index) => [
    String.fromCharCode(65 + index),
    "",
    "",
    "",
    "☐ before ☐ after",
  ]);
  return [
    { kind: "heading", level: 1, text: "Conditions and instruments" },
    {
      kind: "table",
      caption: "",
      toWrite: true,
      columns: [
        "Time",
        "Sky and rain",
        "Array dry or wet",
        "Air °C",
        "Back of module °C",
        "Irradiance W/m²",
      ].map((head) => ({ head, share: 1 / 6 })),
      rows: [
        ["", "", "", "", "", ""],
        ["", "", "", "", "", ""],
      ],
    },
    {
      kind: "table",
      caption: "Each instrument by its letter in the tables below",
      toWrite: true,
      columns: [
        { head: "Letter", share: 0.09 },
        { head: "Instrument", share: 0.3 },
        { head: "Its number", share: 0.2 },
        { head: "Calibrated on", share: 0.17 },
        { head: "Proved on a known source", share: 0.24 },
      ],
      rows: blank,
    },
  ];
}

function proofBlocks({ array, path, steps, stopWhen }: PathProof, tested: Set<string>): readonly Block[] {
  const told = new Set<string>();
  const before = tested.has(array);
  tested.add(array);
  const done = steps.filter(({ id }) => !before || !OF_THE_ARRAY.has(id));
  return [
    { kind: "heading", level: 1, text: `Array ${array}, path ${path}` },
    {
      kind: "cautions",
      title: "Stop at once, stay clear and isolate when",
      items: stopWhen.map(({ text }) => text),
      reviewed: "",
    },
    ...(before
      ? [
          {
            kind: "paragraph",
            text: `Earth continuity, polarity, voltage and insulation of array ${array}: as recorded above, if done on the same day.`,
          } as const,
        ]
      : []),
    ...done.flatMap((step, index) => stepBlocks(step, index + 1, told)),
    { kind: "heading", level: 2, text: "Drill" },
    {
      kind: "fields",
      rows: [
        { label: "Alarm raised at (time)" },
        { label: "Acknowledged by" },
        { label: "Acknowledged at (time), and minutes since it was raised" },
        { label: "Result: path proved, or what has to be mended", lines: 2 },
      ],
    },
  ];
}

function earlier({ proofs }: Site): readonly Block[] {
  if (proofs.length === 0) return [];
  return [
    { kind: "heading", level: 1, text: "Earlier proofs" },
    {
      kind: "table",
      caption: "From the proofs of the site file",
      columns: ["Path", "Kind", "On", "By", "Acknowledged after"].map((head) => ({ head, share: 0.2 })),
      rows: proofs.map(({ path, kind, on, by, acknowledgedAfter }) => [
        path,
        kind === "drill" ? "drill" : "test resistor",
        on,
        by ?? "—",
        acknowledgedAfter === undefined ? "—" : `${acknowledgedAfter} min`,
      ]),
    },
  ];
}
