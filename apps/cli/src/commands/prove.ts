import { proofPlan, rulesUsed } from "@earthbell/engine";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { overriddenAmong, overriddenText, withOverridden } from "../views/overridden-text.ts";
import { proofPlanText } from "../views/proof-plan-text.ts";
import { dayAsked, onOption } from "./day-asked.ts";
import { runDocuments } from "./documents.ts";
import { readRules, rulesOptions } from "./rules-in-force.ts";
import { readSiteWith } from "./site-part.ts";
import { fileStatuses } from "./statuses.ts";

export const prove: Command = {
  name: "prove",
  summary: "plan the commissioning tests and the proof of an alarm, each step with what it should show",
  operands: { shape: "SITE…", least: 1, most: Infinity, what: "a site file, or - for standard input" },
  options: [
    { name: "json", help: "print JSON for programs instead of a page" },
    { name: "path", value: "ID", help: "prove this path only" },
    onOption,
    ...rulesOptions,
  ],
  description: [
    "From isolation over continuity, polarity, voltage and insulation to the test resistor, the alarm it must raise, who must acknowledge it, and the record. Cautions stand before their step. A step that cannot be worked out is left out in sight, with the reason.",
    "It advises licensed people. Nothing in it replaces proving dead, or the local code.",
  ],
  example: {
    line: "earthbell prove demo/sites/creamery.yaml --path P1 --on 2026-11-25",
    shows: "How to prove that a message about an earth fault reaches the people of an invented creamery.",
  },
  statuses: fileStatuses("a plan was made, whatever it leaves out"),
  run: runProve,
};

async function runProve(call: Call): Promise<ExitStatus> {
  const onDate = await dayAsked(call, prove.name);
  if (onDate === null) return exitStatus.wrongInput;
  const packs = await readRules(call);
  if (packs === null) return exitStatus.wrongInput;
  const id = call.arguments.value("path");
  return await runDocuments(call, {
    read: (source, file) => readSiteWith(source, file, { kind: "path", id }),
    solve: (site) =>
      withOverridden(
        proofPlan(site, { onDate, packs, ...(id === undefined ? {} : { pathId: id }) }),
        overriddenAmong(rulesUsed(site, packs, "limits")),
      ),
    show: ({ record, result: { overridden = [], ...plan } }) => [
      ...proofPlanText({ plan, site: record }, call.page),
      ...overriddenText(overridden, call.page),
    ],
  });
}
