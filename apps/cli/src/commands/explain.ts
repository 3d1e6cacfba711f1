import { catalogue } from "../catalogue/catalogue.ts";
import { nearest } from "../command-line/nearest.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { catalogueText, entryText } from "../views/catalogue-text.ts";
import { tellingStatuses } from "./statuses.ts";

export const explain: Command = {
  name: "explain",
  summary: "say what a code or a verdict means and what to do",
  operands: { shape: "[CODE]", least: 0, most: 1, what: "a code" },
  options: [],
  description: [
    "Everything the program finds or refuses carries a code. This tells what a code means, what to do next and where the rule behind it comes from. Without a code it lists them all.",
  ],
  example: {
    line: "earthbell explain DUTY_NO_PATH",
    shows: "An alarm is required and the array has no path: what that means and what to do.",
  },
  statuses: tellingStatuses,
  run: runExplain,
};

async function runExplain({ arguments: given, page, print, complain }: Call): Promise<ExitStatus> {
  const code = given.operands[0];
  if (code === undefined) {
    await print(catalogueText(catalogue, page));
    return exitStatus.made;
  }
  const entry = catalogue.find((one) => one.code.toLowerCase() === code.toLowerCase());
  if (entry) {
    await print(entryText(entry, page));
    return exitStatus.made;
  }
  await complain(usageText([codeUnknown(code)], "earthbell explain (lists every code)", page));
  return exitStatus.wrongInput;
}

function codeUnknown(code: string): Parameters<typeof usageText>[0][number] {
  const close = nearest(
    code,
    catalogue.map((entry) => entry.code),
  );
  return {
    code: "COMMAND_VALUE_UNKNOWN",
    message: `There is no code ${JSON.stringify(code)}.`,
    suggestions: close.map((one) => `earthbell explain ${one}`),
    lead: "near",
  };
}
