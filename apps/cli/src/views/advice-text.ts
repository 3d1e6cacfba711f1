import { type Advice, ADVICE_QUESTIONS, type AdviceAnswers } from "@earthbell/engine";
import { type NotedLines, textWidth, withMargin } from "../terminal/margin.ts";
import type { Page } from "../terminal/page.ts";
import { printable } from "../terminal/printable.ts";
import { bullets, heading, paragraph } from "../terminal/section.ts";
import { wrap } from "../terminal/wrap.ts";
import { planBlocks, planName } from "./advice-plans.ts";
import { dutyBlocks, thresholdText, voltageBlock } from "./array-blocks.ts";
import { item, markedRow, row } from "./row.ts";
import { quantity } from "../terminal/quantity.ts";

/** Advice as a page: is an alarm due, the possible paths in order, what to do for the best, what is still open. */
export function adviceText(
  unsafe: { readonly advice: Advice; readonly answers: AdviceAnswers },
  page: Page,
): string[] {
  const { advice, answers } = printable(unsafe);
  const blocks: NotedLines[] = [
    { lines: titleLines(answers, page) },
    { lines: ["", ...heading("Is an alarm due?", page)] },
    ...dueBlocks(advice, page),
    { lines: ["", ...heading("Paths that are possible here, the best first", page)] },
    ...planBlocks(advice, page),
    ...doBlocks(advice, page),
    ...openBlocks(advice, page),
    ...sourcedSection("Assumed", advice.assumed, page),
  ];
  return withMargin(blocks, page);
}

function titleLines({ id, name, place }: AdviceAnswers, page: Page): string[] {
  const title = name ?? id ?? "A site without a name";
  const where = [place?.country, place?.region].filter((part) => part !== undefined).join("-");
  return [
    ...wrap(title, textWidth(page)).map(page.style.strong),
    ...wrap(`${where === "" ? "place not known" : where}; advice on its earth-fault alarm`, textWidth(page)),
  ];
}

function dueBlocks({ array, duty }: Advice, page: Page): NotedLines[] {
  if (array === null)
    return [
      markedRow("Duty", "unsure", "undecided", page, "no rule can be applied yet"),
      ...duty.missing.map((id) => item(`missing: ${asksOf(id)}`, page)),
    ];
  const limit = array.insulationThreshold;
  return [
    ...dutyBlocks(array.duty, page),
    ...voltageBlock(array.maxVoltage, page),
    ...(limit === null
      ? []
      : [row("Threshold", thresholdText(limit, array.duty.alarm), page, `${limit.source}; ${limit.tag}`)]),
    row("Size", quantity(array.powerWatts, "real power"), page),
  ];
}

function asksOf(id: string): string {
  return ADVICE_QUESTIONS.find((question) => question.id === id)?.asks ?? id;
}

interface Noted {
  readonly text: string;
  readonly source: string;
  readonly tag: string;
}

function notedBullets(list: readonly Noted[], page: Page): NotedLines[] {
  return list.map(({ text, source, tag }) => ({ lines: bullets([text], page), note: `${source}; ${tag}` }));
}

function sourcedSection(title: string, list: readonly Noted[], page: Page): NotedLines[] {
  if (list.length === 0) return [];
  return [{ lines: ["", ...heading(title, page)] }, ...notedBullets(list, page)];
}

/** For the first plan: set, then the cautions before the test, then what the owner is told. */
function doBlocks({ plans, instructions, cautions, endToEnd, tellOwner }: Advice, page: Page): NotedLines[] {
  const [best] = plans;
  if (best === undefined) return [];
  const of = (part: "set" | "test" | "tell"): Noted[] =>
    instructions.flatMap((one) =>
      one[part].map(({ value, ...from }) => ({ text: `${one.signal}: ${value}`, ...from })),
    );
  const owner = tellOwner.map(({ value, ...from }) => ({ text: value, ...from }));
  return [
    ...sourcedSection(`Set, for ${planName(best)}`, of("set"), page),
    ...sourcedSection("Read this before the test", cautions, page),
    ...sourcedSection(
      "Test",
      [{ text: endToEnd.value, source: endToEnd.source, tag: endToEnd.tag }, ...of("test")],
      page,
    ),
    ...sourcedSection("Tell the owner in writing", [...of("tell"), ...owner], page),
  ];
}

function openBlocks({ undecided, open, next }: Advice, page: Page): NotedLines[] {
  const question = ADVICE_QUESTIONS.find(({ id }) => id === next);
  if (question === undefined && undecided.length === 0) return [];
  const waiting = undecided.map(
    ({ decision, waitsFor }) => `undecided: ${decision}; it waits for ${waitsFor.join(", ")}`,
  );
  const others = open.slice(1).map(({ question: id }) => id);
  return [
    { lines: ["", ...heading("Still open", page), ...bullets(waiting, page)] },
    ...(question === undefined
      ? []
      : [
          row("Ask next", question.asks, page, "tried with usual answers; computed"),
          row("", `It decides ${question.decides}.`, page),
        ]),
    ...(others.length === 0 ? [] : [{ lines: paragraph(`Then: ${others.join(", ")}.`, page) }]),
  ];
}
