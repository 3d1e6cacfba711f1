import {
  cautionsFor,
  type PathProof,
  proofPlan,
  type RulePack,
  rulesUsed,
  type Site,
  STEPS_OF_THE_ARRAY,
} from "@earthbell/engine";
import type { Commissioning, HeldSheet } from "@earthbell/model";
import type { Block, Paper } from "../../content/paper.ts";
import { cautionBox } from "../../content/caution-box.ts";
import { overriddenValues } from "../../content/overridden-values.ts";
import { siteName } from "../../content/site-name.ts";
import type { Issue } from "../../identity/issue.ts";
import { lettersOf, preconditionBlocks, type Letters } from "./preconditions.ts";
import { outcome } from "./outcome.ts";
import { settingBlocks } from "./setting-blocks.ts";
import { settingsOf } from "./ticked-sheets.ts";
import { type Result, stepBlocks } from "./step-blocks.ts";
import { signOff, workBlocks } from "./work-blocks.ts";

/** What the record is made from beside the site. */
export interface MadeFrom {
  readonly results?: Commissioning | null;
  readonly packs?: readonly RulePack[];
  /** Setting sheets at hand: those that the results name, and others that are to be ticked. */
  readonly sheets?: readonly HeldSheet[];
}

/**
 * The record of commissioning and of the proof of each path: tests in order, each with its cautions and what must hold before
 * it, what it should show and where that comes from, then the drill and the signatures. With results it states them; without,
 * it has lines to be filled in by hand.
 */
export function commissioningRecord(site: Site, issue: Issue, made: MadeFrom = {}): Paper {
  const { results = null, packs = [], sheets = [] } = made;
  const { proofs } = proofPlan(site, { onDate: issue.date, packs });
  const letters = lettersOf(proofs);
  // What stands in the first box is not spelled out again.
  const told = new Set<string>(cautionsFor("arrive").map(({ id }) => id));
  const overridden = (array: string): readonly Block[] =>
    overriddenValues(rulesUsed(site, packs, "limits", array));
  const settings = settingsOf(results, sheets);
  const parts: Parts = { results, letters, tested: new Set(), told, overridden };
  return {
    kind: "commissioning-record",
    language: issue.language,
    title: "Commissioning and proof of the earth-fault alarm",
    subject: siteName(site),
    look: "record",
    issue,
    blocks: [
      cautionBox("arrive", "Before anything is touched"),
      ...outcome(results, settings),
      ...workBlocks(results),
      ...settingBlocks(settings, results === null, issue.language),
      ...(results === null ? preconditionBlocks(letters) : []),
      ...(proofs.length === 0
        ? [
            {
              kind: "paragraph",
              text: "The site file names no path that serves an array, so there is nothing to prove.",
            } as const,
          ]
        : [stopBox(proofs), ...proofs.flatMap((proof) => proofBlocks(proof, parts))]),
      ...earlier(site),
      ...signOff(results),
    ],
  };
}

interface Parts {
  readonly results: Commissioning | null;
  readonly letters: Letters;
  readonly tested: Set<string>;
  readonly told: Set<string>;
  /** Overridden rule values that the tests of an array rest on. */
  readonly overridden: (array: string) => readonly Block[];
}

/** The reasons to stop are the same for every array and path, so they stand once, before the first of them. */
function stopBox([first]: readonly PathProof[]): Block {
  return {
    kind: "cautions",
    title: "During every step: stop at once, stay clear and isolate when",
    items: first!.stopWhen.map(({ text }) => text),
    reviewed: "",
  };
}

function proofBlocks({ array, path, steps }: PathProof, parts: Parts): readonly Block[] {
  const { results, letters, tested, told } = parts;
  const before = tested.has(array);
  tested.add(array);
  const done = steps.filter(({ id }) => !before || !STEPS_OF_THE_ARRAY.has(id));
  const own = results === null ? null : byStep(results, array, path);
  return [
    { kind: "heading", level: 1, text: `Array ${array}, path ${path}` },
    ...parts.overridden(array),
    ...(before
      ? [
          {
            kind: "paragraph",
            text: `Earth continuity, polarity, voltage and insulation of array ${array}: as recorded above, if done on the same day.`,
          } as const,
        ]
      : []),
    ...done.flatMap((step, index) => stepBlocks(step, index + 1, { letters, told, results: own })),
    { kind: "heading", level: 2, text: "Drill" },
    { kind: "fields", rows: drillRows(results, path) },
  ];
}

/** Results of an array for this path, or for all of its paths. */
function byStep(
  { results }: Commissioning,
  array: string,
  path: string,
): ReadonlyMap<string, readonly Result[]> {
  const own = results.filter((one) => one.array === array && (one.path === undefined || one.path === path));
  return new Map(own.map(({ step }) => [step, own.filter((one) => one.step === step)]));
}

function drillRows(
  results: Commissioning | null,
  path: string,
): { readonly label: string; readonly value?: string; readonly lines?: number }[] {
  const labels = [
    "Alarm raised at (time)",
    "Acknowledged by",
    "Acknowledged at (time), and minutes since it was raised",
    "Result: path proved, or what has to be mended",
  ] as const;
  if (results === null) return labels.map((label, index) => ({ label, lines: index === 3 ? 2 : 1 }));
  const drill = results.drills.findLast((one) => one.path === path);
  if (drill === undefined) return [{ label: labels[3], value: "no drill is recorded" }];
  const { raised, acknowledgedBy, acknowledged, proved, note } = drill;
  const after = acknowledged === undefined ? null : minutesBetween(raised, acknowledged);
  const values = [
    raised,
    acknowledgedBy ?? "nobody is recorded",
    after === null ? "not acknowledged" : `${acknowledged!}, ${after} min later`,
    `${proved ? "path proved" : "path not proved"}${note === undefined ? "" : `: ${note}`}`,
  ];
  return labels.map((label, index) => ({ label, value: values[index]! }));
}

/** Minutes from one time of day to the next one that reads so. */
function minutesBetween(from: string, to: string): number {
  const minute = (time: string): number => Number(time.slice(0, 2)) * 60 + Number(time.slice(3));
  return (minute(to) - minute(from) + 1440) % 1440;
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
