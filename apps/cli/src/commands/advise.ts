import {
  type Advice,
  advise as adviseOn,
  type AdviceAnswers,
  adviceSite,
  type RulePack,
  rulesUsed,
} from "@earthbell/engine";
import { readAdvice, siteText } from "@earthbell/model";
import { askAnswers } from "../advise/ask.ts";
import type { UsageFault } from "../command-line/usage-fault.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { writeWhole } from "../output/write-whole.ts";
import { shellLine } from "../terminal/section.ts";
import { adviceText } from "../views/advice-text.ts";
import {
  overriddenAmong,
  overriddenText,
  type OverriddenValue,
  withOverridden,
} from "../views/overridden-text.ts";
import { runDocuments } from "./documents.ts";
import { readRules, rulesOptions } from "./rules-in-force.ts";
import { fileStatuses } from "./statuses.ts";

export const advise: Command = {
  name: "advise",
  summary: "from about ten answers: is an alarm due, by which paths, what each costs, and what to ask next",
  operands: { shape: "[ANSWERS]", least: 0, most: 1, what: "a file of answers, or - for standard input" },
  options: [
    { name: "json", help: "print JSON for programs instead of a page" },
    ...rulesOptions,
    { name: "save", value: "FILE", help: "write the site as answered, with the paths of the best plan" },
  ],
  description: [
    "For an installer on the telephone. Without a file the questions are asked here, one line each; every answer can be changed, and what is not known is left out. What hangs on it is then undecided, and the question worth asking next is named.",
    "Times to notice are those of paths built as advised. Costs are rough ranges in hours and visits: replace them from your own jobs.",
  ],
  example: {
    line: "earthbell advise demo/advice/shearing-shed.yaml",
    shows: "An invented shearing shed: nothing built yet, the relay not yet asked about.",
  },
  statuses: fileStatuses("advice was given, whatever is still open"),
  run: runAdvise,
};

interface Given {
  readonly answers: AdviceAnswers;
  readonly advice: Advised;
}

type Advised = Advice & { readonly overridden?: readonly OverriddenValue[] };

/** Advice by these packs, with the overridden values that duty and limits of the planned array rest on. */
function advised(answers: AdviceAnswers, packs: readonly RulePack[]): Advised {
  const advice = adviseOn(answers, packs);
  const site = adviceSite(answers, advice.plans[0]?.signals ?? []);
  return withOverridden(advice, site === null ? [] : overriddenAmong(rulesUsed(site, packs)));
}

async function runAdvise(call: Call): Promise<ExitStatus> {
  const packs = await readRules(call);
  if (!packs) return exitStatus.wrongInput;
  const given: Given[] = [];
  const solve = (answers: AdviceAnswers): Advised => {
    const advice = advised(answers, packs);
    given.push({ answers, advice });
    return advice;
  };
  const show = (answers: AdviceAnswers, { overridden = [], ...advice }: Advised): readonly string[] => [
    ...adviceText({ advice, answers }, call.page),
    ...overriddenText(overridden, call.page),
  ];
  if (call.arguments.operands.length === 0) {
    const answers = await askAnswers(call);
    const advice = solve(answers);
    if (call.arguments.has("json")) await call.world.out.write(`${JSON.stringify(advice, null, 2)}\n`);
    else await call.print(show(answers, advice));
    return await save(call, { answers, advice });
  }
  const status = await runDocuments(call, {
    read: (source, file) => readAdvice(source, file),
    solve,
    show: ({ record, result }) => show(record, result),
  });
  const [only] = given;
  return only === undefined ? status : await save(call, only);
}

/** The site with the paths of the best plan, for assess and the other commands. */
async function save(call: Call, { answers, advice }: Given): Promise<ExitStatus> {
  const file = call.arguments.value("save");
  if (file === undefined) return exitStatus.made;
  const site = adviceSite(answers, advice.plans[0]?.signals ?? []);
  const fault = site === null ? incomplete(advice) : await writeWhole(file, siteText(site, NOTES));
  if (fault !== null) {
    await call.complain(usageText([fault], "earthbell help advise", call.page));
    return exitStatus.wrongInput;
  }
  if (!call.arguments.has("json"))
    await call.print(["", `Written to ${file}. Next:`, ...shellLine(`earthbell assess ${file}`, call.page)]);
  return exitStatus.made;
}

const NOTES = [
  "Written by earthbell advise from the answers of an installer. Its paths are planned, not built.",
  "Add what is built, the addresses, the proofs and the day on which the owner was told.",
];

function incomplete({ duty }: Advice): UsageFault {
  return {
    code: "COMMAND_SITE_INCOMPLETE",
    message: `A site file needs at least place, strings, module and inverter; not answered: ${duty.missing.join(", ")}.`,
    suggestions: [],
    lead: "example",
  };
}
