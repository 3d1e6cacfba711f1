import { describeReading, type Explanation, type Finding, type Visit } from "@earthbell/engine";
import { marked, type State } from "../terminal/marks.ts";
import type { Page } from "../terminal/page.ts";
import { printable } from "../terminal/printable.ts";
import { hardSpace, resistanceWithInterval } from "../terminal/quantity.ts";
import { bulletSection, heading, indented, narrower, paragraph } from "../terminal/section.ts";
import { percent } from "../terminal/strip.ts";
import { table } from "../terminal/table.ts";
import { placesText } from "./places-text.ts";
import { whyText } from "./why-text.ts";
import { cautionsText, nextStepText, planText } from "./step-text.ts";

export interface ReadVisit {
  readonly visit: Visit;
  readonly finding: Finding;
  readonly explanation: Explanation;
}

export interface FindingSheet {
  readonly title: string;
  readonly page: Page;
  /** Show every proposed step, not only the first. */
  readonly wholePlan: boolean;
}

/**
 * One finding as a page: what the readings say, where the damage may be, what speaks against it; then the cautions of
 * the step it proposes, directly before that step, so that nobody reads the step without them.
 */
export function findingText(unsafe: ReadVisit, sheet: FindingSheet): string[] {
  const { finding, visit, explanation } = printable(unsafe);
  const { page } = sheet;
  return [
    page.style.strong(sheet.title),
    ...verdictText(finding, page),
    // Readings that contradict each other name no place, so none is drawn.
    ...(finding.verdict === "inconsistent" ? [] : evidenceText({ finding, visit, explanation }, page)),
    ...suspectsText(finding, visit, page),
    ...bulletSection("To be read with this", finding.warnings, page),
    ...cautionsText(finding.next[0], page),
    ...nextStepText(finding.next, page),
    ...(sheet.wholePlan ? planText(finding.next, page) : []),
  ];
}

function evidenceText({ finding, visit, explanation }: ReadVisit, page: Page): string[] {
  return [
    ...placesText({ finding, visit }, page),
    ...insulationText(finding, page),
    ...hypothesesText(finding, page),
    ...whyText(explanation, page),
  ];
}

const verdicts: Readonly<Record<Finding["verdict"], { readonly state: State; readonly word: string }>> = {
  located: { state: "fault", word: "Fault, located" },
  narrowed: { state: "fault", word: "Fault, narrowed down" },
  "more-than-one": { state: "fault", word: "Fault, more than one" },
  "cannot-tell": { state: "unsure", word: "Unsure: these readings cannot tell" },
  inconsistent: { state: "unsure", word: "Unsure: the readings do not fit together" },
  "no-fault": { state: "proven", word: "No fault in these readings" },
};

function verdictText({ verdict, because, codes }: Finding, page: Page): string[] {
  const { state, word } = verdicts[verdict];
  const explained = `Codes, each told by earthbell explain CODE: ${codes.join(", ")}`;
  return [
    "",
    ...heading("Finding", page),
    `  ${marked(state, word, page)}`,
    ...paragraph(because, page),
    ...(codes.length === 0 ? [] : paragraph(explained, page)),
  ];
}

function insulationText({ insulation, faultResistance }: Finding, page: Page): string[] {
  const rows = insulation.map((measured) => [
    `insulation of ${measured.string}`,
    resistanceWithInterval(measured),
  ]);
  if (faultResistance) rows.push(["the fault itself", resistanceWithInterval(faultResistance)]);
  if (rows.length === 0) return [];
  const columns = [
    { title: "Resistance to earth", align: "left", flexible: true },
    { title: `value${hardSpace.repeat(2)}90 % interval`, align: "decimal" },
  ] as const;
  return ["", ...indented(table(columns, rows, narrower(page)))];
}

function hypothesesText({ hypotheses }: Finding, page: Page): string[] {
  if (hypotheses.length === 0) return [];
  const columns = [
    { title: "What it could be", align: "left", flexible: true },
    { title: "probability", align: "decimal" },
  ] as const;
  const rows = hypotheses.map(({ what, probability }) => [what, percent(probability)]);
  return ["", ...indented(table(columns, rows, narrower(page)))];
}

function suspectsText({ suspect }: Finding, visit: Visit, page: Page): string[] {
  const lines = suspect.map(({ reading, code, blunder, settle }) => {
    const taken = visit.readings[reading];
    const where = taken ? ` (${describeReading(taken)})` : "";
    return `reading ${reading + 1}${where}: ${blunder} [${code}]. To settle it: ${settle}`;
  });
  return bulletSection(marked("unsure", "Readings that do not fit", page), lines, page);
}
