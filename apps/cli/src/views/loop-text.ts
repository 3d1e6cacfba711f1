import type { LoopReport, Site } from "@earthbell/engine";
import { type NotedLines, textWidth, withMargin } from "../terminal/margin.ts";
import { marked, type State } from "../terminal/marks.ts";
import type { Page } from "../terminal/page.ts";
import { printable } from "../terminal/printable.ts";
import { quantity } from "../terminal/quantity.ts";
import { bullets, heading, indented, narrower, paragraph } from "../terminal/section.ts";
import { table } from "../terminal/table.ts";
import { wrap } from "../terminal/wrap.ts";
import { item, row } from "./row.ts";
import { siteTitle } from "./site-title.ts";

type PathLoop = LoopReport["loops"][number];
type Design = NonNullable<PathLoop["design"]>;

/** The annunciator loops of a site as a page: faults numbered, what to change, figures, parts by rating. */
export function loopText(unsafe: { readonly report: LoopReport; readonly site: Site }, page: Page): string[] {
  const { report, site } = printable(unsafe);
  const { loops, withoutLoop } = report;
  const none = "No path of this site is an annunciator, so there is no loop to judge.";
  const passed = `No annunciators, and so without a loop: ${withoutLoop.join(", ")}.`;
  const blocks: NotedLines[] = [
    { lines: siteTitle(site, "annunciator loops", page) },
    ...(loops.length === 0 ? [{ lines: ["", ...paragraph(none, page)] }] : []),
    ...loops.flatMap((loop) => loopSection(loop, page)),
    ...(withoutLoop.length > 0 && loops.length > 0 ? [{ lines: ["", ...paragraph(passed, page)] }] : []),
  ];
  return withMargin(blocks, page);
}

const verdicts: Readonly<Record<PathLoop["verdict"], { state: State; word: string }>> = {
  approved: { state: "proven", word: "approved as given" },
  repaired: { state: "do-this", word: "to be changed as below" },
  "left-open": { state: "unsure", word: "not settled: something is left open" },
  "not-designed": { state: "unsure", word: "cannot be designed yet" },
};

function loopSection(loop: PathLoop, page: Page): NotedLines[] {
  const { state, word } = verdicts[loop.verdict];
  const { design } = loop;
  return [
    { lines: ["", ...heading(`Path ${loop.path}`, page), `  ${marked(state, word, page)}`] },
    ...faultBlocks(loop, page),
    ...loop.missing.map((what) => item(`missing: ${what}`, page)),
    ...(design === null ? [] : [...changeBlocks(design, page), ...figureBlocks(loop, design, page)]),
    ...(design === null ? [] : partsBlock(design, page)),
  ];
}

function faultBlocks({ faults }: PathLoop, page: Page): NotedLines[] {
  if (faults.length === 0) return [];
  return [
    { lines: ["", ...paragraph("Found as it is:", page)] },
    ...faults.map(({ code, text, severity, source, tag }, index) => ({
      lines: hanging(`${index + 1}. `, `${text} (${severity}, ${code})`, page),
      note: [source, tag].filter((part) => part !== undefined).join("; "),
    })),
  ];
}

function hanging(lead: string, text: string, page: Page): string[] {
  return wrap(text, textWidth(page) - 2 - lead.length).map(
    (line, index) => `  ${index === 0 ? lead : " ".repeat(lead.length)}${line}`,
  );
}

function changeBlocks({ changes, unsolved }: Design, page: Page): NotedLines[] {
  const changed = changes.map(({ part, from, to, why }) => `${part}: ${from} → ${to}. ${why}`);
  return [
    ...(changed.length === 0
      ? []
      : [{ lines: ["", ...paragraph("Change:", page), ...bullets(changed, page)] }]),
    ...(unsolved.length === 0
      ? []
      : [{ lines: ["", ...paragraph("Left open:", page), ...bullets(unsolved, page)] }]),
  ];
}

const volts = (value: number): string => quantity(value, "voltage");

function figureBlocks(
  { loadVoltageAsGivenV, contactInverter }: PathLoop,
  design: Design,
  page: Page,
): NotedLines[] {
  const { figures, loop, contact, relay } = design;
  if (figures === null) return [];
  const needs = loop.load?.minimumVoltage;
  const given = loadVoltageAsGivenV === null ? "" : `${volts(loadVoltageAsGivenV)} as given, `;
  const asked = needs === undefined ? "" : `; it works from ${volts(needs)}`;
  const rated = `rated ${quantity(contact.current, "current")} at ${volts(contact.voltage)} d.c.`;
  const eased = relay === null ? "" : `; it then drives only the coil, ${quantity(relay.coilA, "current")}`;
  const fuse = loop.fuse === undefined ? "none" : quantity(loop.fuse, "current");
  const battery = loop.battery === undefined ? "none stated" : `${String(loop.battery)} Ah`;
  return [
    { lines: ["", ...paragraph("Figures, battery at its end and cable hot:", page)] },
    row("Load", `${given}${volts(figures.loadVoltage)} as designed${asked}`, page, "Ohm's law; computed"),
    row("Contact", `of ${contactInverter ?? "the inverter"}, ${rated}${eased}`, page),
    row("Fuse", `${fuse}; the loop draws ${quantity(figures.alarmA, "current")} while sounding`, page),
    row("Battery", `${battery}; needed ${String(Math.ceil(figures.batteryAh * 100) / 100)} Ah`, page),
  ];
}

function partsBlock({ parts }: Design, page: Page): NotedLines[] {
  const columns = [
    { title: "", align: "right" },
    { title: "part", align: "left", flexible: true },
    { title: "rating", align: "left", flexible: true },
  ] as const;
  const rows = parts.map(({ quantity: count, item: name, rating }) => [String(count), name, rating]);
  const room = narrower({ ...page, width: textWidth(page) });
  return [{ lines: ["", ...paragraph("Parts, by rating:", page), ...indented(table(columns, rows, room))] }];
}
