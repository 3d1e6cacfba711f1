import {
  chainOfPath,
  drawChain,
  drawLoop,
  type LoopDesign,
  type LoopReport,
  type Path,
  type PathAssessment,
  type PathLoop,
  type Site,
  svgText,
} from "@earthbell/engine";
import type { Block } from "../../content/paper.ts";
import { quantityWords } from "../../content/quantity-words.ts";
import { tableWords } from "../../content/table-words.ts";
import { findingsTable } from "./array-section.ts";

const VERDICTS: Readonly<Record<PathAssessment["verdict"], string>> = {
  meets: "● The path meets what is asked.",
  "falls-short": "▲ The path falls short.",
  unproven: "◆ The path is not proved.",
  "cannot-tell": "◆ The path cannot be judged.",
};

/** One path from detector to person: its chain, what was found, and the loop of an annunciator. */
export function pathSection(
  path: Path,
  assessment: PathAssessment,
  site: Site,
  loops: LoopReport,
): readonly Block[] {
  const drawing = drawChain({ ...chainOfPath(path, site, assessment), width: 720 });
  const loop = loops.loops.find((one) => one.path === path.id);
  return [
    { kind: "heading", level: 1, text: `Path ${path.id}: ${path.signal}` },
    { kind: "paragraph", weight: "lead", text: VERDICTS[assessment.verdict] },
    {
      kind: "drawing",
      svg: svgText(drawing),
      alt: tableWords(drawing.table),
      caption: "From the array to a person",
      width: 1,
    },
    ...findingsTable(assessment.findings),
    ...(loop === undefined ? [] : loopSection(loop)),
  ];
}

function loopSection({ design, missing, faults, verdict }: PathLoop): readonly Block[] {
  const head: Block = { kind: "heading", level: 2, text: `Annunciator loop: ${verdict.replace("-", " ")}` };
  if (design === null)
    return [
      head,
      { kind: "paragraph", text: `It cannot be designed before this is known: ${missing.join("; ")}.` },
    ];
  const { changes, parts, unsolved, figures } = design;
  return [
    head,
    {
      kind: "drawing",
      svg: drawLoop(design),
      alt: loopWords(design),
      caption: "The loop as it should be built",
      width: 1,
    },
    ...loopFigures(figures),
    ...table(
      "Changes",
      ["Part", "From", "To", "Why"],
      [0.14, 0.2, 0.26, 0.4],
      changes.map(({ part, from, to, why }) => [part, from, to, why]),
    ),
    ...table(
      "Parts",
      ["Pieces", "Part", "Rating"],
      [0.12, 0.4, 0.48],
      parts.map(({ quantity, item, rating }) => [String(quantity), item, rating]),
    ),
    ...(unsolved.length === 0
      ? []
      : [
          { kind: "heading", level: 2, text: "Left open" } as const,
          { kind: "list", items: unsolved } as const,
        ]),
    ...(faults.length === 0
      ? []
      : [
          {
            kind: "paragraph",
            weight: "aside",
            text: `As given, the loop has: ${faults.map(({ code }) => code).join(", ")}.`,
          } as const,
        ]),
  ];
}

function loopFigures(figures: LoopDesign["figures"]): readonly Block[] {
  return figures === null
    ? []
    : [
        {
          kind: "figures",
          caption: "",
          rows: [
            {
              label: "Voltage at the load, battery at its end, cable hot",
              value: quantityWords(figures.loadVoltage, "voltage"),
              ...computed,
            },
            {
              label: "Resistance of the loop, contact included",
              value: quantityWords(figures.loopOhms, "resistance"),
              ...computed,
            },
            { label: "Battery needed", value: quantityWords(figures.batteryAh, "charge"), ...computed },
            {
              label: "Current while sounding",
              value: quantityWords(figures.alarmA, "current"),
              ...computed,
            },
          ],
        } as const,
      ];
}

const computed = { source: "loop as drawn, at its worst", tag: "computed" } as const;

function loopWords({ loop, parts }: NonNullable<PathLoop["design"]>): string {
  const listed = parts.map(({ quantity, item, rating }) => `${quantity} ${item} ${rating}`).join("; ");
  return `Schematic of the annunciator loop${loop.supply === undefined ? "" : `, supply ${loop.supply} V`}. Parts: ${listed}.`;
}

function table(
  caption: string,
  heads: readonly string[],
  shares: readonly number[],
  rows: readonly (readonly string[])[],
): readonly Block[] {
  if (rows.length === 0) return [];
  return [{ kind: "table", caption, columns: heads.map((head, i) => ({ head, share: shares[i]! })), rows }];
}
