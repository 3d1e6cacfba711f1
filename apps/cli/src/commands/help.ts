import { nearest } from "../command-line/nearest.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { commandHelp, programHelp } from "../views/help-text.ts";
import { tellingStatuses } from "./statuses.ts";

/** The help command for these commands and itself. */
export function helpFor(others: readonly Command[]): Command {
  const help: Command = {
    name: "help",
    summary: "list the commands, or explain one with an example",
    operands: { shape: "[COMMAND]", least: 0, most: 1, what: "a command" },
    options: [],
    description: ["`earthbell help COMMAND` says the same as `earthbell COMMAND --help`."],
    example: { line: "earthbell help locate", shows: "What locate reads, prints and returns." },
    statuses: tellingStatuses,
    run: (call) => runHelp(call, [...others, help]),
  };
  return help;
}

async function runHelp(call: Call, commands: readonly Command[]): Promise<ExitStatus> {
  const { arguments: given, page, print, complain } = call;
  const name = given.operands[0];
  const command = commands.find((one) => one.name === name);
  if (name === undefined || command) {
    await print(command ? commandHelp(command, page) : programHelp(commands, page));
    return exitStatus.made;
  }
  await complain(usageText([commandUnknown(name, commands)], "earthbell help", page));
  return exitStatus.wrongInput;
}

/** The fault of naming a command that is not there. */
export function commandUnknown(
  typed: string,
  commands: readonly Command[],
): Parameters<typeof usageText>[0][number] {
  const names = commands.map((command) => command.name);
  const close = nearest(typed, names);
  return {
    code: "COMMAND_NAME_UNKNOWN",
    message: `There is no command ${JSON.stringify(typed)}.`,
    suggestions: (close.length > 0 ? close : names).map((one) => `earthbell ${one}`),
    lead: close.length > 0 ? "near" : "all",
  };
}
