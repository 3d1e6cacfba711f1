import { coverageReport, drawSiteCoverage, rulesUsed, type SiteCoverage } from "@earthbell/engine";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { coverageText } from "../views/coverage-text.ts";
import { overriddenAmong, overriddenText, withOverridden } from "../views/overridden-text.ts";
import { runDocuments } from "./documents.ts";
import { readRules, rulesOptions } from "./rules-in-force.ts";
import { readSiteWith } from "./site-part.ts";
import { fileStatuses } from "./statuses.ts";
import { svgOption, writeDrawing } from "./write-drawing.ts";

export const coverage: Command = {
  name: "coverage",
  summary: "map which detector sees an earth fault, by its place and its resistance, and where none does",
  operands: { shape: "SITE…", least: 1, most: Infinity, what: "a site file, or - for standard input" },
  options: [
    { name: "json", help: "print JSON for programs instead of a page" },
    { name: "array", value: "ID", help: "map this array only" },
    ...rulesOptions,
    svgOption("the map of one array"),
  ],
  description: [
    "Each row is a place along a string, each column a fault resistance; a letter says which detector sees the fault soonest. One map is for faults born while the inverter runs, one for faults born in the dark.",
    "A detector that the site file does not state is taken for absent.",
  ],
  example: {
    line: "earthbell coverage demo/sites/ferry-shed.yaml",
    shows: "An insulation check at start only, and what the residual-current monitor misses mid-string.",
  },
  statuses: fileStatuses("a map was made, or it was said why none can be"),
  run: runCoverage,
};

async function runCoverage(call: Call): Promise<ExitStatus> {
  const packs = await readRules(call);
  if (packs === null) return exitStatus.wrongInput;
  const id = call.arguments.value("array");
  const mapped: SiteCoverage[] = [];
  const status = await runDocuments(call, {
    read: (source, file) => readSiteWith(source, file, { kind: "array", id }),
    solve: (site) => {
      const report = coverageReport(site, id, packs);
      mapped.push(...report.arrays);
      return withOverridden(report, overriddenAmong(rulesUsed(site, packs, "limits", id)));
    },
    show: ({ record, result: { overridden = [], ...report } }) => [
      ...coverageText({ report, site: record }, call.page),
      ...overriddenText(overridden, call.page),
    ],
  });
  if (status !== exitStatus.made) return status;
  return await writeDrawing(
    call,
    coverage.name,
    mapped.map((one) => ({ drawing: drawSiteCoverage(one), askedBy: `--array ${one.array}` })),
  );
}
