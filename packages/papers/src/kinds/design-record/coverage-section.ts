import { drawCoverageGrid, type Phase, type SiteCoverage, svgText } from "@earthbell/engine";
import type { Block } from "../../content/paper.ts";
import { percent } from "../../content/quantity-words.ts";

const PHASES: readonly (readonly [Phase, string])[] = [
  ["night", "Faults born in the dark"],
  ["running", "Faults born while the inverter runs"],
];

/** What the detectors of one array see, by place and resistance of the fault. */
export function coverageSection({ array, map, detectors, missing, assumed }: SiteCoverage): readonly Block[] {
  const head: Block = { kind: "heading", level: 1, text: `What the detectors of ${array} see` };
  const watching = detectors.length === 0 ? "No detector is stated." : `Detectors: ${detectors.join("; ")}.`;
  const unknown: readonly Block[] =
    missing.length === 0 ? [] : [{ kind: "paragraph", text: `Not stated: ${missing.join("; ")}.` }];
  if (map === null) return [head, { kind: "paragraph", text: watching }, ...unknown];
  return [
    head,
    { kind: "paragraph", text: watching },
    ...unknown,
    ...PHASES.map(([phase, title]): Block => {
      const shares = map.shares[phase];
      const said = `at once ${percent(shares["at-once"])}, at the next start ${percent(shares["next-start"])}, never ${percent(shares.never)}`;
      const drawing = drawCoverageGrid({ title, map, phase, width: 640 });
      return {
        kind: "drawing",
        svg: svgText(drawing),
        alt: `${title}, share of the map that is seen: ${said}.`,
        caption: `${title}. Share of the map seen: ${said}. Computed.`,
        width: 0.82,
      };
    }),
    assumedTable(assumed),
  ];
}

/** What a result takes for granted, each with its source. */
export function assumedTable(assumed: SiteCoverage["assumed"]): Block {
  return {
    kind: "table",
    caption: "Taken for granted",
    columns: [
      { head: "Assumption", share: 0.62 },
      { head: "Where it comes from", share: 0.38 },
    ],
    rows: assumed.map(({ text, source, tag }) => [text, `${source}; ${tag}`]),
  };
}
