import { assessSite, rulesUsed } from "@earthbell/engine";
import { readSite } from "@earthbell/model";
import { checkDate } from "../command-line/date.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { assessmentText } from "../views/assessment-text.ts";
import { overriddenAmong, overriddenText, withOverridden } from "../views/overridden-text.ts";
import { documentOptions, runDocuments } from "./documents.ts";
import { readRules, rulesOptions } from "./rules-in-force.ts";
import { fileStatuses } from "./statuses.ts";

export const assess: Command = {
  name: "assess",
  summary: "say what the rules require of each array, and whether its alarm reaches a person",
  operands: { shape: "SITE…", least: 1, most: Infinity, what: "a site file, or - for standard input" },
  options: [
    ...documentOptions,
    ...rulesOptions,
    { name: "on", value: "DATE", help: "judge paths and proofs for this day (today when left out)" },
  ],
  description: [
    "A site file holds the arrays, inverters, people and alarm paths of one site. The assessment says for each array whether an alarm is required and by which rule, its thresholds and test, and the resistor that proves it; for each path whether it reaches somebody, how soon and what breaks it silently; and what the owner must be told.",
    "What the file does not say is unknown. Then the answer is undecided and names what is missing.",
  ],
  example: {
    line: "earthbell assess demo/sites/ferry-shed.yaml --on 2026-11-25",
    shows: "A siren that cannot work, and why: thin cable, tired battery, overloaded contact.",
  },
  statuses: fileStatuses("an assessment was made, whatever it says"),
  run: runAssess,
};

async function runAssess(call: Call): Promise<ExitStatus> {
  const { arguments: given, page, world, complain } = call;
  const on = given.value("on");
  const dateFault = on === undefined ? null : checkDate("on", on);
  if (dateFault) {
    await complain(usageText([dateFault], "earthbell help assess", page));
    return exitStatus.wrongInput;
  }
  const packs = await readRules(call);
  if (!packs) return exitStatus.wrongInput;
  const onDate = on ?? world.today();
  return await runDocuments(call, {
    read: (source, file, firstLine) => readSite(source, file, firstLine === undefined ? {} : { firstLine }),
    solve: (site) =>
      withOverridden(assessSite(site, { packs, onDate }), overriddenAmong(rulesUsed(site, packs))),
    show: ({ record, result: { overridden = [], ...assessment } }) => [
      ...assessmentText({ assessment, site: record, onDate }, page),
      ...overriddenText(overridden, page),
    ],
  });
}
