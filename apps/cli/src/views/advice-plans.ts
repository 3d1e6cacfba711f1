import type { Advice, AdvisedPlan, Effort } from "@earthbell/engine";
import { type NotedLines, textWidth } from "../terminal/margin.ts";
import { marked } from "../terminal/marks.ts";
import type { Page } from "../terminal/page.ts";
import { figure, hardSpace } from "../terminal/quantity.ts";
import { bullets, indented, narrower, paragraph } from "../terminal/section.ts";
import { percent } from "../terminal/strip.ts";
import { type Cell, table } from "../terminal/table.ts";
import { timeText } from "./notice-text.ts";

/** `message + annunciator`. */
export function planName({ signals }: AdvisedPlan): string {
  return signals.join(" + ");
}

const FOLLOWED_DAYS = 28;

/** The plans as a table, then the signals that are in none, each with its reason. */
export function planBlocks({ plans, notPlanned }: Advice, page: Page): NotedLines[] {
  const room = narrower({ ...page, width: textWidth(page) });
  const none = "No signal is possible as far as is known.";
  return [
    {
      lines:
        plans.length === 0
          ? [`  ${marked("unsure", none, page)}`]
          : indented(
              table(
                COLUMNS,
                plans.map((plan, index) => planRow(plan, index, page)),
                room,
              ),
            ),
    },
    ...(plans.length === 0 ? [] : [costNote(plans[0]!, page)]),
    ...notPlanned.map(({ signal, state, why, open }) => ({
      lines: bullets(
        [
          `${signal}: ${state === "ruled-out" ? "not here" : "cannot tell"}. ${why}${open.length === 0 ? "" : ` Ask: ${open.join(", ")}.`}`,
        ],
        page,
      ),
    })),
  ];
}

const COLUMNS = [
  { title: "path", align: "left", flexible: true },
  { title: "half", align: "left" },
  { title: "95 %", align: "left" },
  { title: `24${hardSpace}h`, align: "left" },
  { title: `7${hardSpace}days`, align: "left" },
  { title: "build", align: "left" },
  { title: "a year", align: "left" },
  { title: "parts", align: "left" },
] as const;

function planRow(plan: AdvisedPlan, index: number, page: Page): readonly Cell[] {
  const { notice, effort, serves, accepted } = plan;
  const name = `${index + 1} ${planName(plan)}`;
  const doubt = accepted ? (serves ? "" : ", too slow for an alarm") : ", not accepted by the rule";
  const { parts, hours, yearlyHours } = effort.value;
  return [
    doubt === "" ? name : { text: name + doubt, ink: page.style.unsure },
    timeText(notice.medianHours, FOLLOWED_DAYS),
    timeText(notice.p95Hours, FOLLOWED_DAYS),
    percent(notice.unnoticedAfter24h),
    percent(notice.unnoticedAfter7d),
    `${range(hours)}${hardSpace}h`,
    `${range(yearlyHours)}${hardSpace}h`,
    parts,
  ];
}

function range([least, most]: Effort["hours"]): string {
  return least === most ? figure(least) : `${figure(least)}–${figure(most)}`;
}

function costNote({ effort }: AdvisedPlan, page: Page): NotedLines {
  const { partsAre, visits, yearlyVisits } = effort.value;
  const text = `Half and 95 %: time by which so many faults are known; 24 h and 7 days: still unnoticed then; work to build it and prove it, and in each later year. Visits for the first: ${range(visits)} to build it, then ${range(yearlyVisits)} a year. Its parts: ${partsAre}.`;
  return {
    lines: paragraph(text, page).map(page.style.secondary),
    note: `hours and visits: ${effort.source}; ${effort.tag}`,
  };
}
