import type { CoverageReport } from "@earthbell/engine";
import { textWidth } from "../terminal/margin.ts";
import type { Page } from "../terminal/page.ts";
import { quantity } from "../terminal/quantity.ts";
import { paragraph } from "../terminal/section.ts";
import { padEnd, padStart } from "../terminal/wrap.ts";

type Map = NonNullable<CoverageReport["arrays"][number]["map"]>;
type Cell = Map["cells"]["running"][number][number];
type Detector = Cell["by"][number];

const letters: Readonly<Record<Detector, string>> = {
  "insulation-start": "I",
  "insulation-continuous": "C",
  residual: "R",
  interrupter: "F",
  asymmetry: "A",
};
const names: Readonly<Record<Detector, string>> = {
  "insulation-start": "insulation check at the next start",
  "insulation-continuous": "insulation watched all day",
  residual: "residual-current monitor",
  interrupter: "interrupter in the earth connection",
  asymmetry: "asymmetry of the poles",
};
/** Letters for two or more detectors that see a fault equally soon. */
const together = ["X", "Y", "Z", "W", "V", "U"];
const unseen = ".";
const labelWidth = 9;

/** One letter to each set of detectors on the map, in the order in which they occur. */
function legendOf(
  rows: readonly (readonly Cell[])[],
): ReadonlyMap<string, { letter: string; words: string }> {
  const legend = new Map<string, { letter: string; words: string }>();
  let joined = 0;
  for (const { by, soon } of rows.flat()) {
    const key = by.join("+");
    if (legend.has(key)) continue;
    const letter = by.length === 0 ? unseen : by.length === 1 ? letters[by[0]!] : (together[joined++] ?? "?");
    const waits = soon === "next-start" && by[0] !== "insulation-start" ? ", at the next start" : "";
    legend.set(key, {
      letter,
      words: by.length === 0 ? "nothing" : `${by.map((one) => names[one]).join(" and ")}${waits}`,
    });
  }
  return legend;
}

/** The map of one time of birth as letters, places down and resistances across; equal rows next to each other are one. */
export function coverageGrid(map: Map, phase: "running" | "night", page: Page): string[] {
  const rows = map.cells[phase];
  const legend = legendOf(rows);
  const pitch = textWidth(page) - labelWidth - 2 >= 2 * map.faultOhms.length ? 2 : 1;
  const texts = rows.map((cells) =>
    cells.map(({ by }) => padEnd(legend.get(by.join("+"))!.letter, pitch)).join(""),
  );
  const lines: string[] = [];
  for (let from = 0; from < texts.length; ) {
    let to = from;
    while (texts[to + 1] === texts[from]) to++;
    const places =
      from === to ? String(map.positions[from]!) : `${map.positions[from]!}-${map.positions[to]!}`;
    lines.push(`  ${padStart(places, labelWidth - 2)}  ${texts[from]!}`.trimEnd());
    from = to + 1;
  }
  const words = [...legend.values()].map((one) => `${one.letter} ${one.words}`).join("; ");
  return [
    page.style.secondary(`  ${padEnd("place", labelWidth)}${headOf(map.faultOhms, pitch)}`.trimEnd()),
    ...lines,
    ...paragraph(`${words}. Places count modules from the negative end.`, page).map(page.style.secondary),
  ];
}

/** Whole decades over their columns, where there is room. */
function headOf(faultOhms: readonly number[], pitch: number): string {
  let line = "";
  faultOhms.forEach((ohms, index) => {
    const isDecade = Math.abs(Math.log10(ohms) - Math.round(Math.log10(ohms))) < 1e-9;
    const name = quantity(ohms, "resistance").replaceAll("\u00a0", pitch === 1 ? "" : " ");
    const column = index * pitch;
    const fits =
      column === 0 || (column > line.length && column + name.length <= faultOhms.length * pitch + 5);
    if (isDecade && fits) line = padEnd(line, column) + name;
  });
  return line;
}
