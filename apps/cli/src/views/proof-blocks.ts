import type { ArrayAssessment } from "@earthbell/engine";
import type { NotedLines } from "../terminal/margin.ts";
import type { Page } from "../terminal/page.ts";
import { figure, quantity } from "../terminal/quantity.ts";
import { item, markedRow, row } from "./row.ts";

/** How the alarm may be proved with a resistor: the cautions first, then the resistor. */
export function proofBlocks(resistor: ArrayAssessment["proofResistor"], page: Page): NotedLines[] {
  if (resistor === null) return [row("Proof", "no test resistor can be stated; see the findings", page)];
  const cautions = resistor.warnings.map((warning) => item(warning, page));
  if (!resistor.permitted)
    return [markedRow("Proof", "fault", "do not connect a test resistor here", page), ...cautions];
  return [
    markedRow("Proof", "do-this", "read this before a test resistor is connected", page),
    ...cautions,
    ...resistorLines(resistor).map((line) =>
      row("", line, page, "V²/R and V/R at the highest voltage; computed"),
    ),
  ];
}

function resistorLines(resistor: NonNullable<ArrayAssessment["proofResistor"]>): readonly string[] {
  const { ohms, watts, milliamps, elements, series, atMostOhms } = resistor;
  const current = quantity(milliamps / 1000, "current");
  const single = `${quantity(ohms, "resistance")}, rated ${quantity(watts, "real power")}, carries ${current}`;
  const most = `measured before use, not more than ${quantity(atMostOhms, "resistance")}`;
  if (elements === 1) return [`${single}; ${most}`];
  const each = `${quantity(series.ohmsEach, "resistance")}, rated ${quantity(series.wattsEach, "real power")} each`;
  return [`${single}; made of ${figure(elements)} in series, ${each}; ${most}`];
}
