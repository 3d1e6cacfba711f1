import { CAUTIONS, PRECONDITIONS, type ProofPlan, type Site } from "@earthbell/engine";
import { type NotedLines, textWidth, withMargin } from "../terminal/margin.ts";
import { marked } from "../terminal/marks.ts";
import { marginFrom, type Page } from "../terminal/page.ts";
import { printable } from "../terminal/printable.ts";
import { quantity } from "../terminal/quantity.ts";
import { bullets, heading, paragraph } from "../terminal/section.ts";
import { wrap } from "../terminal/wrap.ts";
import { siteTitle } from "./site-title.ts";

type PathProof = ProofPlan["proofs"][number];
type Step = PathProof["steps"][number];

/** A commissioning sequence as a page: when to stop, then step by step, its cautions and records before what to do. */
export function proofPlanText(
  unsafe: { readonly plan: ProofPlan; readonly site: Site },
  page: Page,
): string[] {
  const { plan, site } = printable(unsafe);
  const none = "The site file names no path that serves an array, so there is nothing to prove.";
  const blocks: NotedLines[] = [
    { lines: siteTitle(site, "commissioning and proof of the alarm", page) },
    ...(plan.proofs.length === 0 ? [{ lines: ["", ...paragraph(none, page)] }] : []),
    ...plan.proofs.flatMap((proof) => proofSection(proof, page)),
  ];
  return withMargin(blocks, page);
}

function proofSection({ path, array, steps, stopWhen }: PathProof, page: Page): NotedLines[] {
  const title = marked("fault", "Stop, stay clear and isolate when", page);
  const told = new Set<string>();
  return [
    { lines: ["", ...heading(`Path ${path}, array ${array}`, page), ""] },
    {
      lines: [
        ...paragraph(title, page),
        ...bullets(
          stopWhen.map(({ text }) => text),
          page,
        ),
      ],
    },
    ...steps.flatMap((step, index) => stepBlocks(step, index + 1, told, page)),
  ];
}

/** A caution is spelled out before the first step it belongs to, and named again before the later ones. */
function stepBlocks(step: Step, number: number, told: Set<string>, page: Page): NotedLines[] {
  if (step.leftOut !== null) {
    const head = marked("unsure", `${number}. Left out: ${step.do}`, page);
    return [{ lines: ["", ...paragraph(head, page), ...bullets([step.leftOut], page)] }];
  }
  const fresh = step.cautions.filter((id) => !told.has(id));
  const again = step.cautions.filter((id) => told.has(id));
  const warnings = step.warnings.filter((text) => !told.has(text));
  for (const one of [...fresh, ...warnings]) told.add(one);
  const repeated = again.length === 0 ? [] : [`As before: ${again.map(words).join(", ")}.`];
  return [
    { lines: ["", ...paragraph(page.style.strong(`Before step ${number}`), page)] },
    ...fresh.map((id) => cautionBlock(id, page)),
    { lines: bullets([...warnings, ...repeated], page) },
    ...(step.requires.length === 0 ? [] : [requiresBlock(step, page)]),
    { lines: doLines(`${number}. ${step.do}`, page) },
    ...step.expected.map((expected) => expectedBlock(expected, page)),
  ];
}

function words(id: string): string {
  return id.replaceAll("-", " ");
}

function cautionBlock(id: string, page: Page): NotedLines {
  const caution = CAUTIONS.find((one) => one.id === id);
  if (caution === undefined) return { lines: bullets([words(id)], page) };
  const lines = bullets([caution.text], page);
  return page.width < marginFrom ? { lines } : { lines, note: `${caution.source}; ${caution.tag}` };
}

function requiresBlock({ requires }: Step, page: Page): NotedLines {
  const recorded = requires.map((id) => PRECONDITIONS[id]);
  return { lines: [...paragraph("Only when each of these is recorded:", page), ...bullets(recorded, page)] };
}

function doLines(text: string, page: Page): string[] {
  return wrap(text, textWidth(page) - 2).map((line) => `  ${page.style.copper(line)}`);
}

function expectedBlock(
  { text, value, dimension, source, tag }: Step["expected"][number],
  page: Page,
): NotedLines {
  const shown = value === undefined || dimension === undefined ? "" : `: ${quantity(value, dimension)}`;
  const lines = wrap(`expect ${text}${shown}`, textWidth(page) - 6).map(
    (line, index) => (index === 0 ? "    > " : "      ") + line,
  );
  return { lines, note: `${source}; ${tag}` };
}
