import { drawLoop, type LoopReport, loopReport } from "@earthbell/engine";
import type { UsageFault } from "../command-line/usage-fault.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { writeWhole } from "../output/write-whole.ts";
import { loopText } from "../views/loop-text.ts";
import { runDocuments } from "./documents.ts";
import { readSiteWith } from "./site-part.ts";
import { fileStatuses } from "./statuses.ts";

export const loop: Command = {
  name: "loop",
  summary: "approve or repair the sounder's or beacon's wiring: voltage, contact, fuse, battery, parts",
  operands: { shape: "SITE", least: 1, most: 1, what: "a site file, or - for standard input" },
  options: [
    { name: "json", help: "print JSON for programs instead of a page" },
    { name: "path", value: "ID", help: "the loop of this path only" },
    { name: "svg", value: "FILE", help: "write the schematic of the loop to this file as well" },
  ],
  description: [
    "An annunciator hangs on a cable, a contact, a fuse and a battery. Each is judged at its worst: battery at its end, cable hot. What is wrong is numbered; then what to change, and the parts by rating.",
    "A person who knows the local code checks the result. Nothing in it allows work on a live array.",
  ],
  example: {
    line: "earthbell loop demo/sites/ferry-shed.yaml",
    shows: "A siren on bell wire that cannot work, what to change, and what no cable mends.",
  },
  statuses: fileStatuses("a loop was approved or repaired, or it was said why none could be"),
  run: runLoop,
};

async function runLoop(call: Call): Promise<ExitStatus> {
  const id = call.arguments.value("path");
  const file = call.arguments.value("svg");
  const reports: LoopReport[] = [];
  const status = await runDocuments(call, {
    read: (source, name) => readSiteWith(source, name, { kind: "path", id }),
    solve: (site) => {
      const made = loopReport(site, id);
      reports.push(made);
      return made;
    },
    show: ({ record, result }) => loopText({ report: result, site: record }, call.page),
  });
  const [report] = reports;
  if (file === undefined || report === undefined) return status;
  return await draw(call, report, file);
}

/** One file holds one drawing. */
async function draw({ complain, page }: Call, { loops }: LoopReport, file: string): Promise<ExitStatus> {
  const designed = loops.flatMap(({ path, design }) => (design === null ? [] : [{ path, design }]));
  const [only] = designed;
  const fault =
    designed.length === 1 && only !== undefined
      ? await writeWhole(file, drawLoop(only.design))
      : notOne(designed.map(({ path }) => path));
  if (fault === null) return exitStatus.made;
  await complain(usageText([fault], "earthbell help loop", page));
  return exitStatus.wrongInput;
}

function notOne(paths: readonly string[]): UsageFault {
  return {
    code: "COMMAND_DRAWING_NOT_ONE",
    message: `--svg draws one loop, and there are ${paths.length} to draw.`,
    suggestions: paths.map((path) => `--path ${path}`),
    lead: "all",
  };
}
