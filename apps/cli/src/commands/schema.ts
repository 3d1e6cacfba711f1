import {
  adviceJsonSchema,
  commissioningJsonSchema,
  deskJsonSchema,
  ruleOverridesJsonSchema,
  rulePackJsonSchema,
  settingSheetJsonSchema,
  siteJsonSchema,
  visitJsonSchema,
} from "@earthbell/model";
import { nearest } from "../command-line/nearest.ts";
import type { UsageFault } from "../command-line/usage-fault.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { tellingStatuses } from "./statuses.ts";

const schemas: ReadonlyMap<string, () => unknown> = new Map([
  ["site", siteJsonSchema],
  ["visit", visitJsonSchema],
  ["rule-pack", rulePackJsonSchema],
  ["rule-overrides", ruleOverridesJsonSchema],
  ["advice", adviceJsonSchema],
  ["desk", deskJsonSchema],
  ["commissioning", commissioningJsonSchema],
  ["setting-sheet", settingSheetJsonSchema],
]);

export const schema: Command = {
  name: "schema",
  summary: "print the JSON Schema of a file format, for editors",
  operands: {
    shape: "FORMAT",
    least: 1,
    most: 1,
    what: "a format: site, visit, rule-pack, rule-overrides, advice, desk, commissioning or setting-sheet",
  },
  options: [],
  description: [
    "An editor that knows JSON Schema offers field names and marks slips while you type. The schema is looser than the program: units, ranges and references between fields are checked only when a file is read.",
  ],
  example: {
    line: "earthbell schema visit",
    shows: "The schema of visit files; write it to a file with > visit.schema.json.",
  },
  statuses: tellingStatuses,
  run: runSchema,
};

async function runSchema({ arguments: given, page, world, complain }: Call): Promise<ExitStatus> {
  const name = given.operands[0] ?? "";
  const print = schemas.get(name);
  if (!print) {
    await complain(usageText([formatUnknown(name)], "earthbell help schema", page));
    return exitStatus.wrongInput;
  }
  await world.out.write(`${JSON.stringify(print(), null, 2)}\n`);
  return exitStatus.made;
}

function formatUnknown(name: string): UsageFault {
  const names = [...schemas.keys()];
  const close = nearest(name, names);
  return {
    code: "COMMAND_VALUE_UNKNOWN",
    message: `There is no format ${JSON.stringify(name)}.`,
    suggestions: (close.length > 0 ? close : names).map((one) => `earthbell schema ${one}`),
    lead: close.length > 0 ? "near" : "all",
  };
}
