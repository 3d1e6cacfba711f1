import type { CoverageReport, Site } from "@earthbell/engine";
import { type NotedLines, withMargin } from "../terminal/margin.ts";
import { marked } from "../terminal/marks.ts";
import type { Page } from "../terminal/page.ts";
import { printable } from "../terminal/printable.ts";
import { figure, hardSpace, quantity } from "../terminal/quantity.ts";
import { bullets, heading, paragraph } from "../terminal/section.ts";
import { percent } from "../terminal/strip.ts";
import { coverageGrid } from "./coverage-grid.ts";
import { item, row } from "./row.ts";
import { siteTitle } from "./site-title.ts";

type ArrayCoverage = CoverageReport["arrays"][number];
type Map = NonNullable<ArrayCoverage["map"]>;

/** Coverage as a page: for each array its detectors, two maps, what is unseen, and the margin of the healthy floor. */
export function coverageText(
  unsafe: { readonly report: CoverageReport; readonly site: Site },
  page: Page,
): string[] {
  const { report, site } = printable(unsafe);
  const blocks: NotedLines[] = [
    { lines: siteTitle(site, "what the detectors see", page) },
    ...report.arrays.flatMap((array) => arraySection(array, page)),
  ];
  return withMargin(blocks, page);
}

function arraySection(array: ArrayCoverage, page: Page): NotedLines[] {
  const { map, detectors, missing, assumed } = array;
  const watched = detectors.length === 0 ? ["none that the site file states"] : detectors;
  return [
    { lines: ["", ...heading(`Array ${array.array}`, page)] },
    ...watched.map((text, index) => row(index === 0 ? "Detectors" : "", text, page)),
    ...(map === null
      ? [{ lines: [`  ${marked("unsure", "no map can be made", page)}`] }]
      : mapBlocks(map, page)),
    marginBlock(array, page),
    ...missing.map((what) => item(`missing: ${what}`, page)),
    ...(assumed.length === 0 ? [] : [{ lines: ["", ...paragraph("Assumed:", page)] }]),
    ...assumed.map(({ text, source, tag }) => ({ lines: bullets([text], page), note: `${source}; ${tag}` })),
  ];
}

function mapBlocks(map: Map, page: Page): NotedLines[] {
  const { running, night } = map.shares;
  const blind = map.blindPositions;
  const waiting = running["next-start"];
  const waits = waiting === 0 ? "" : `; ${percent(waiting)} waits for the next start`;
  return [
    row(
      "Unseen",
      `${percent(running.never)} of the map while running, ${percent(night.never)} in the dark`,
      page,
    ),
    row("At once", `${percent(running["at-once"])} of the map while running${waits}`, page),
    ...(blind.length === 0
      ? []
      : [row("Blind", `nothing sees any fault at place ${blind.join(", ")}, whenever it is born`, page)]),
    {
      lines: ["", ...paragraph("Born while the inverter runs", page), ...coverageGrid(map, "running", page)],
    },
    { lines: ["", ...paragraph("Born in the dark", page), ...coverageGrid(map, "night", page), ""] },
  ];
}

const alarms = {
  "expected-when-wet": "a healthy wet array may alarm: expect it",
  "possible-when-wet": "a healthy wet array may alarm",
  unlikely: "a healthy array is unlikely to alarm",
} as const;

function marginBlock({ healthy }: ArrayCoverage, page: Page): NotedLines {
  if (healthy === null) return row("Healthy", "floor or threshold not known", page);
  const { floorOhms, marginToThreshold, falseAlarm, largestAreaM2, standingLeak } = healthy;
  const leak =
    standingLeak === null
      ? ""
      : `; its leak is ${percent(standingLeak.shareOfRating)} of the interrupter's rating`;
  const times = `${figure(marginToThreshold, 3)}${hardSpace}times the threshold`;
  const text = `may show as little as ${quantity(floorOhms, "resistance")}, ${times}: ${alarms[falseAlarm]}; the two meet at ${quantity(largestAreaM2, "area", 3)}${leak}`;
  return row("Healthy", text, page, "IEC 61215-2 MQT 15, 40 MΩ·m² over the module area; memory");
}
