import type { SiteCoverage } from "../detector-coverage/index.ts";
import type { NoticeOfPaths, NoticeReport } from "../path/notice-report.ts";
import { drawCoverageGrid } from "./coverage-grid.ts";
import { type Drawing, filled, mark, words } from "./drawing.ts";
import { drawNoticeCurve } from "./notice-curve.ts";

const WIDTH = 720;
const GAP = 46;
/** As many as a curve tells apart by its dashes: all together and three alone. */
const MOST_ALONE = 3;

/** The table of a drawing in words, for readers who do not see it. */
function tableWords({ table: { columns, rows } }: Drawing): string {
  return rows
    .map((row) => row.map((cell, i) => (i === 0 ? cell : `${columns[i]!} ${cell}`)).join(", "))
    .join("; ");
}

/** A drawing that stands by itself in a file: on paper, and with its table in words. */
function onPaper(drawing: Drawing): Drawing {
  const { width, height, marks } = drawing;
  const paper = mark("rect", { x: 0, y: 0, width, height, ...filled("paper") });
  return { ...drawing, marks: [mark("desc", {}, tableWords(drawing)), paper, ...marks] };
}

/**
 * The time to notice of a site as one drawing: all paths together heaviest, then each alone, the first three of them.
 *
 * @returns null where the site has no path
 */
export function drawNoticeReport({ site, answers }: NoticeReport): Drawing | null {
  const together = answers.at(-1);
  if (together === undefined) return null;
  const alone = answers.length > 1 ? answers.slice(0, -1).slice(0, MOST_ALONE) : [];
  const named = ({ paths, ...answer }: NoticeOfPaths) => ({
    name: paths.length > 1 ? `${paths.join(", ")} together` : `path ${paths[0] ?? ""}`,
    answer: { channels: paths, ...answer },
  });
  const title = `Faults of ${site} that nobody has noticed yet`;
  return onPaper(drawNoticeCurve({ title, answers: [together, ...alone].map(named), width: WIDTH }));
}

/**
 * What the detectors of one array see, in two grids: faults born while the inverter runs, and born in the dark.
 *
 * @returns null where there is no map
 */
export function drawSiteCoverage({ array, map }: SiteCoverage): Drawing | null {
  if (map === null) return null;
  const phases = [
    { phase: "running", born: "while the inverter runs" },
    { phase: "night", born: "in the dark" },
  ] as const;
  const grids = phases.map(({ phase, born }) =>
    drawCoverageGrid({ title: `Array ${array}, faults born ${born}`, map, phase, width: WIDTH }),
  );
  const marks = grids.map((grid, i) => {
    const y = GAP + i * (grid.height + GAP);
    const heading = words(0, -16, grid.title, { bold: true, size: 14 });
    return mark("g", { transform: `translate(16 ${y})` }, heading, ...grid.marks);
  });
  const [first] = grids;
  return onPaper({
    width: WIDTH + 32,
    height: grids.reduce((sum, { height }) => sum + height + GAP, 0),
    title: `What the detectors of array ${array} see`,
    marks,
    table: {
      caption: `What the detectors of array ${array} see`,
      columns: first!.table.columns,
      rows: grids.flatMap(({ table }, i) =>
        table.rows.map(([place = "", ...rest]) => [`born ${phases[i]!.born}, place ${place}`, ...rest]),
      ),
    },
  });
}
