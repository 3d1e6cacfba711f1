import { cautionsFor, PRECONDITIONS, type RequestedReading, type Step } from "@earthbell/engine";
import { textWidth, withMargin } from "../terminal/margin.ts";
import { marked } from "../terminal/marks.ts";
import { marginFrom, type Page } from "../terminal/page.ts";
import { figure, hardSpace } from "../terminal/quantity.ts";
import { bullets, heading, indented, narrower, paragraph } from "../terminal/section.ts";
import { table } from "../terminal/table.ts";
import { wrap } from "../terminal/wrap.ts";

/** The cautions of a step; those of coming to the site when no step is proposed. Sources stand in the margin, if there is one. */
export function cautionsText(step: Step | undefined, page: Page): string[] {
  const cautions = cautionsFor(step?.action ?? "arrive");
  const blocks = cautions.map(({ text, source, tag }) => ({
    lines: bullets([text], page),
    ...(page.width >= marginFrom ? { note: `${source}; ${tag}` } : {}),
  }));
  const title = marked("do-this", "Read this before the next step", page);
  return ["", ...heading(title, page), ...withMargin(blocks, page)];
}

/** What must be recorded, then what to do, then the readings to write into the visit file. */
export function nextStepText(steps: readonly Step[], page: Page): string[] {
  const step = steps[0];
  if (!step) return ["", ...heading("Next step", page), "  No further measurement is proposed."];
  const title = marked("do-this", "Do this next", page);
  return [
    "",
    ...heading(title, page),
    ...paragraph("Only when each of these is recorded:", page),
    ...bullets(step.requires.map(preconditionText), page),
    "",
    ...paragraph(`${stepPhrase(step)} (${effort(step)})`, page).map(page.style.copper),
    ...paragraph(step.why, page),
    ...readingsText(step.readings, page),
  ];
}

function readingsText(readings: readonly RequestedReading[], page: Page): string[] {
  if (readings.length === 0) return [];
  return [
    "",
    ...paragraph("Then add these to the visit file, each with its value:", page),
    ...readings.flatMap((reading) =>
      wrap(readingLine(reading), textWidth(page) - 8).map(
        (line, index) => (index === 0 ? "    " : "        ") + line,
      ),
    ),
  ];
}

/** A reading as a line of a visit file. */
function readingLine(reading: RequestedReading): string {
  const { on, circuit, from, to, segment, isolated, shunt, testVoltage } = reading;
  const fields = [
    `with: ${reading.with}`,
    `on: ${on}`,
    ...(circuit === undefined ? [] : [`circuit: ${circuit}`]),
    ...(segment ? [`segment: [${segment[0]}, ${segment[1]}]`] : []),
    ...(isolated && isolated.length > 0 ? [`isolated: [${isolated.join(", ")}]`] : []),
    `from: "${from}"`,
    `to: ${to === "earth" ? to : `"${to}"`}`,
    ...(shunt === undefined ? [] : [`shunt: ${shunt.replace(" ", hardSpace)}`]),
    ...(testVoltage === undefined ? [] : [`testVoltage: ${testVoltage.replace(" ", hardSpace)}`]),
    "value: …",
  ];
  return `- {${fields.map((field) => field.replace(": ", `:${hardSpace}`)).join(", ")}}`;
}

/** All proposed steps, the one that tells most for its minutes first. */
export function planText(steps: readonly Step[], page: Page): string[] {
  if (steps.length < 2) return [];
  const columns = [
    { title: "Step", align: "left", flexible: true },
    { title: "minutes", align: "decimal" },
    { title: "bits", align: "decimal" },
    { title: "bits an hour", align: "decimal" },
  ] as const;
  const rows = steps.map((step) => [
    stepPhrase(step),
    figure(step.minutes, 3),
    step.bits < 0.05 ? "<0.05" : figure(step.bits, 2),
    step.minutes > 0 && step.bits >= 0.05 ? figure((step.bits / step.minutes) * 60, 3) : "",
  ]);
  return [
    "",
    ...heading("All steps that would tell something", page),
    ...indented(table(columns, rows, narrower(page))),
  ];
}

function effort({ minutes, bits }: Step): string {
  const time = `${figure(minutes, 3)}${hardSpace}min`;
  return bits < 0.05 ? time : `${time}, tells ${figure(bits, 2)}${hardSpace}bits`;
}

function preconditionText(id: string): string {
  return Object.hasOwn(PRECONDITIONS, id) ? PRECONDITIONS[id as keyof typeof PRECONDITIONS] : id;
}

/** A step in words. */
function stepPhrase(step: Step): string {
  const { action, string, at, group } = step;
  const place = at === undefined ? string : `${string} at ${figure(at)}`;
  switch (action) {
    case "read":
      return `Read ${place} to earth`;
    case "read-with-shunt":
      return `Read ${place} to earth with the known resistor across the meter`;
    case "tester":
      return `Test the insulation of ${place}`;
    case "isolate-string":
      return `Isolate ${group && group.length > 0 ? group.join(", ") : string} at the combiner and read again`;
    case "open-connector":
      return `Open the connector of ${place} and read both parts`;
    case "confirm":
      return `Open ${place} to confirm, and read both parts`;
    case "wait-dry":
      return `Wait until ${string} is dry and read again`;
  }
}
