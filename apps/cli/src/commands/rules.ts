import { candidatesAt, choiceOfPacks, packsWith, type RulePack } from "@earthbell/engine";
import { checkDate } from "../command-line/date.ts";
import { nearest } from "../command-line/nearest.ts";
import type { UsageFault } from "../command-line/usage-fault.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import type { Page } from "../terminal/page.ts";
import { heading, paragraph } from "../terminal/section.ts";
import { rulePackList, rulePackText } from "../views/rule-pack-text.ts";
import { readRules, rulesOptions } from "./rules-in-force.ts";
import { tellingStatuses } from "./statuses.ts";

export const rules: Command = {
  name: "rules",
  summary: "show the rule packs with every value, its source and its tag",
  operands: { shape: "[ID]", least: 0, most: 1, what: "a rule pack" },
  options: [
    ...rulesOptions,
    {
      name: "place",
      value: "CC[-REGION]",
      help: "which packs may bind there: country, and region where it matters (AU-VIC)",
    },
    { name: "on", value: "DATE", help: "the day the work was done, with --place (today when left out)" },
  ],
  description: [
    "A rule pack is one edition of one rule set as data: when an alarm is required, what it must do, and the limits. Each value says where it comes from. A value tagged memory or secondary is to be checked against your own copy; put the corrected pack in a file and hand it to assess, advise, prove, coverage or paper with --rules. A desk hands out the values that its people overrode as a file for --overrides (earthbell schema rule-overrides).",
    "Without ID all packs are listed. With --place it answers which of them may bind there on a day.",
  ],
  example: {
    line: "earthbell rules --place AU-VIC --on 2019-03-14",
    shows: "The edition in force for an array installed in Victoria on that day.",
  },
  statuses: tellingStatuses,
  run: runRules,
};

async function runRules(call: Call): Promise<ExitStatus> {
  const { arguments: given, page, print } = call;
  const place = given.value("place");
  const on = given.value("on");
  const id = given.operands[0];
  const dateFault = on === undefined ? null : checkDate("on", on);
  const placeFault = place === undefined ? null : checkPlace(place);
  const faults = [dateFault, placeFault].filter((fault) => fault !== null);
  const own = await readRules(call);
  if (!own) return exitStatus.wrongInput;
  const packs = packsWith(own);
  const pack = id === undefined ? undefined : packs.find((one) => one.id === id);
  if (id !== undefined && !pack) faults.push(packUnknown(id, packs));
  if (faults.length > 0) return await refuse(call, faults);
  if (pack) await print(rulePackText(pack, page));
  else if (place === undefined) await print(rulePackList(packs, page));
  else await print(inForceText({ packs, place, on: on ?? call.world.today(), page }));
  return exitStatus.made;
}

async function refuse({ page, complain }: Call, faults: readonly UsageFault[]): Promise<ExitStatus> {
  await complain(usageText(faults, "earthbell help rules", page));
  return exitStatus.wrongInput;
}

function checkPlace(place: string): UsageFault | null {
  if (/^[A-Z]{2}(-[A-Z0-9]{1,3})?$/u.test(place)) return null;
  return {
    code: "COMMAND_VALUE_UNKNOWN",
    message: `--place needs a country as in ISO 3166-1, with a region where wanted, and ${JSON.stringify(place)} is none.`,
    suggestions: ["--place AU", "--place AU-VIC"],
    lead: "example",
  };
}

function packUnknown(id: string, packs: readonly RulePack[]): UsageFault {
  const ids = packs.map((pack) => pack.id);
  const close = nearest(id, ids);
  return {
    code: "COMMAND_VALUE_UNKNOWN",
    message: `There is no rule pack ${JSON.stringify(id)}.`,
    suggestions: (close.length > 0 ? close : ids).map((one) => `earthbell rules ${one}`),
    lead: close.length > 0 ? "near" : "all",
  };
}

interface PlaceAndDay {
  readonly packs: readonly RulePack[];
  readonly place: string;
  readonly on: string;
  readonly page: Page;
}

function inForceText({ packs: held, place, on, page }: PlaceAndDay): string[] {
  const [country = "", region = ""] = place.split("-");
  const choice = choiceOfPacks({ country, ...(region === "" ? {} : { region }) }, held);
  const packs = candidatesAt(choice, { country, region, done: on, begun: on })
    .map((candidate) => candidate.pack)
    .filter((pack): pack is RulePack => pack !== null);
  const why: Readonly<Record<typeof choice.by, string>> = {
    date: "The day of the work chooses the edition. Here the work is taken to have begun on the day it was done.",
    adoption:
      "The authority's adoption chooses the edition; a site file must name it (site.place.rules.pack).",
    nothing:
      "No rule pack is kept for this country. A site file may name one that law or contract calls for.",
    named: "",
  };
  const list = packs.length > 0 ? rulePackList(packs, page) : ["  No pack kept here was in force then."];
  return [
    ...heading(`Rule packs that may bind in ${place} for work done on ${on}`, page),
    ...paragraph(why[choice.by], page),
    "",
    ...list,
  ];
}
