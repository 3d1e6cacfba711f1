import type { ArrayAssessment, Assessment, PathAssessment, Site } from "@earthbell/engine";
import { type NotedLines, textWidth, withMargin } from "../terminal/margin.ts";
import { inkOf, marked, markedPlain, type State } from "../terminal/marks.ts";
import type { Page } from "../terminal/page.ts";
import { printable } from "../terminal/printable.ts";
import { bullets, heading } from "../terminal/section.ts";
import { wrap } from "../terminal/wrap.ts";
import { arrayBlocks } from "./array-blocks.ts";
import { findingsBlocks } from "./findings-text.ts";
import { firstNeeds } from "./first-needs.ts";

export interface AssessedSite {
  readonly assessment: Assessment;
  readonly site: Site;
  /** The day for which paths and proofs were judged. */
  readonly onDate: string;
}

/** One assessment as a page: what needs a person first, then array by array, then the paths, the owner, and what was assumed. */
export function assessmentText(unsafe: AssessedSite, page: Page): string[] {
  const { assessment, site, onDate } = printable(unsafe);
  const blocks: NotedLines[] = [
    { lines: titleLines(site, onDate, page) },
    { lines: needLines(assessment, page) },
    ...assessment.arrays.flatMap((array) => arraySection(array, page)),
    ...assessment.paths.flatMap((path) => pathSection(path, page)),
    ...ownerSection(assessment.owner, page),
    ...warningSection(assessment.warnings, page),
  ];
  return withMargin(blocks, page);
}

function titleLines({ id, name, place }: Site, onDate: string, page: Page): string[] {
  const where = [place.country, place.region].filter((part) => part !== undefined).join("-");
  const title = name === undefined ? id : `${name} (${id})`;
  return [...wrap(title, textWidth(page)).map(page.style.strong), `${where}, judged for ${onDate}`];
}

function needLines(assessment: Assessment, page: Page): string[] {
  const { state, words } = firstNeeds(assessment);
  return wrap(markedPlain(state, words, page), textWidth(page)).map(inkOf(state, page));
}

function arraySection(array: ArrayAssessment, page: Page): NotedLines[] {
  return [{ lines: ["", ...heading(`Array ${array.array}`, page)] }, ...arrayBlocks(array, page)];
}

const verdictStates: Readonly<Record<PathAssessment["verdict"], { state: State; word: string }>> = {
  meets: { state: "proven", word: "meets what is asked" },
  "falls-short": { state: "fault", word: "falls short" },
  unproven: { state: "unsure", word: "unproven" },
  "cannot-tell": { state: "unsure", word: "cannot tell" },
};

/** The word and state of a path's verdict. */
export function pathVerdict(verdict: PathAssessment["verdict"]): {
  readonly state: State;
  readonly word: string;
} {
  return verdictStates[verdict];
}

function pathSection({ path, signal, verdict, findings }: PathAssessment, page: Page): NotedLines[] {
  const { state, word } = verdictStates[verdict];
  return [
    { lines: ["", ...heading(`Path ${path}, ${signal}`, page), `  ${marked(state, word, page)}`] },
    ...findingsBlocks(findings, page),
  ];
}

function ownerSection({ informed, findings }: Assessment["owner"], page: Page): NotedLines[] {
  const said =
    informed === "unknown"
      ? marked("unsure", "not known whether the owner was told", page)
      : informed
        ? marked("proven", "told in writing", page)
        : marked("fault", "not told", page);
  return [{ lines: ["", ...heading("Owner", page), `  ${said}`] }, ...findingsBlocks(findings, page)];
}

function warningSection(warnings: readonly string[], page: Page): NotedLines[] {
  if (warnings.length === 0) return [];
  const lines = bullets(warnings, page);
  return [{ lines: ["", ...heading("To be read with this", page), ...lines] }];
}
