import { PRECONDITIONS, preconditionsFor, type PvArray, type Site } from "@earthbell/engine";
import { cautionBox } from "../../content/caution-box.ts";
import type { Block, Paper, Table } from "../../content/paper.ts";
import { siteName } from "../../content/site-name.ts";
import type { Issue } from "../../identity/issue.ts";

/** Strings that get their first readings printed; a large array is measured at its combiner first. */
const MOST_STRINGS = 6;
const BLANK_ROWS = 12;
/** The readings a visit begins with, as the visit file writes them: from, to, shunt. */
const FIRST: readonly (readonly [string, string, string])[] = [
  ["+", "-", ""],
  ["+", "earth", ""],
  ["-", "earth", ""],
  ["+", "earth", "100 kΩ"],
  ["-", "earth", "100 kΩ"],
];

/**
 * A sheet for the readings of a visit by hand, with the fields of a visit file in its columns, so that it can be typed back
 * line by line. Cautions and what must be recorded stand before the first line.
 */
export function visitSheet(site: Site, issue: Issue): Paper {
  return {
    kind: "visit-sheet",
    language: issue.language,
    title: "Readings of a visit",
    subject: siteName(site),
    look: "record",
    issue,
    blocks: [
      cautionBox("arrive", "Before anything is touched"),
      {
        kind: "fields",
        rows: [{ label: "Date and time" }, { label: "Read by" }, { label: "Wet or dry (conditions: wet)" }],
      },
      { kind: "heading", level: 1, text: "Before the first reading" },
      cautionBox("read-with-shunt", "Before a reading, with or without a shunt"),
      {
        kind: "checklist",
        items: preconditionsFor("read-with-shunt").map((id) => ({
          text: PRECONDITIONS[id],
          note: `recorded: ${id}`,
        })),
      },
      { kind: "heading", level: 1, text: "Instruments" },
      instruments(),
      ...site.arrays.flatMap((array) => arrayBlocks(array, site)),
      { kind: "heading", level: 1, text: "To type it back" },
      {
        kind: "list",
        items: [
          "Begin the file with “format: earthbell.visit/1”. Each line of a table above is one entry; the heads of the columns are the names of its fields. Leave a field out where its cell is empty.",
          "Strings go under “strings:”, instruments under “instruments:” by their name, readings under “readings:”, boxes ticked under “recorded:”.",
          "Put text with a space or a sign in quotes, give each quantity its unit, and write − as -.",
          "Then: earthbell locate FILE. Whatever is wrong in it is named with its line.",
        ],
      },
      { kind: "signatures", roles: ["Read by"] },
    ],
  };
}

function instruments(): Table {
  return {
    kind: "table",
    caption: "kind is one of voltmeter, insulation-tester, insulation-monitor, leakage-clamp",
    toWrite: true,
    columns: [
      { head: "name", share: 0.14 },
      { head: "kind", share: 0.24 },
      { head: "inputResistance", share: 0.2 },
      { head: "accuracy: reading", share: 0.22 },
      { head: "accuracy: floor", share: 0.2 },
    ],
    rows: [["meter", "voltmeter", "", "", ""], ...Array.from({ length: 2 }, () => ["", "", "", "", ""])],
  };
}

function arrayBlocks(array: PvArray, { modules }: Site): readonly Block[] {
  const module = modules.find(({ id }) => id === array.module);
  const shown = array.strings.slice(0, MOST_STRINGS);
  return [
    { kind: "heading", level: 1, text: `Array ${array.id}` },
    {
      kind: "table",
      caption: "strings, from the site file; moduleVoc is that of the data sheet, a measured + to − wins",
      columns: [
        { head: "id", share: 0.3 },
        { head: "modules", share: 0.2, right: true },
        { head: "substrings", share: 0.2, right: true },
        { head: "moduleVoc", share: 0.3, right: true },
      ],
      rows: array.strings
        .slice(0, 60)
        .map(({ id, modules: count }) => [
          id,
          String(count),
          module?.substrings === undefined ? "" : String(module.substrings),
          module === undefined ? "" : `${module.voc} V`,
        ]),
    },
    {
      kind: "table",
      caption:
        "readings; isolated names the strings of a circuit that are off, segment the nodes a, b of a part",
      toWrite: true,
      columns: [
        { head: "with", share: 0.11 },
        { head: "on", share: 0.12 },
        { head: "from", share: 0.08 },
        { head: "to", share: 0.09 },
        { head: "shunt", share: 0.12 },
        { head: "segment", share: 0.11 },
        { head: "isolated", share: 0.12 },
        { head: "testVoltage", share: 0.12 },
        { head: "value", share: 0.13 },
      ],
      rows: [
        ...shown.flatMap(({ id }) =>
          FIRST.map(([from, to, shunt]) => ["meter", id, from, to, shunt, "", "", "", ""]),
        ),
        ...Array.from({ length: BLANK_ROWS }, () => Array.from({ length: 9 }, () => "")),
      ],
    },
  ];
}
