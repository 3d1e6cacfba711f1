import { parseArguments } from "./command-line/arguments.ts";
import { commonOptions } from "./command-line/option.ts";
import type { UsageFault } from "./command-line/usage-fault.ts";
import { usageText } from "./command-line/usage-text.ts";
import type { Call, Command } from "./command.ts";
import { commandUnknown } from "./commands/help.ts";
import { commands } from "./commands/index.ts";
import { type ExitStatus, exitStatus } from "./exit-status.ts";
import { notWritten } from "./output/not-written.ts";
import { OutputError } from "./output/writer.ts";
import { asciiOnly, type Page, pageWidth } from "./terminal/page.ts";
import { sheetText } from "./terminal/sheet.ts";
import { chooseStyle } from "./terminal/style.ts";
import { commandHelp, programHelp } from "./views/help-text.ts";
import { version } from "./version.ts";
import type { World } from "./world.ts";

/** Runs one command line to its end. Nothing is thrown: a bug becomes one plain line and status 1. */
export async function earthbell(words: readonly string[], world: World): Promise<ExitStatus> {
  try {
    return await dispatch(words, world);
  } catch (error) {
    return await reportBug(error, world);
  }
}

async function dispatch(words: readonly string[], world: World): Promise<ExitStatus> {
  const [name = "", ...rest] = words;
  const command = commands.find((one) => one.name === name);
  if (command) return await runCommand(command, rest, world);
  const { arguments: given, faults } = parseArguments(words, [
    ...commonOptions,
    { name: "version", help: "print the version" },
  ]);
  const { page, print, complain } = deskFor(world, given);
  const unknown = given.operands[0];
  if (unknown !== undefined) {
    await complain(usageText([commandUnknown(unknown, commands), ...faults], "earthbell --help", page));
    return exitStatus.wrongInput;
  }
  if (faults.length > 0) {
    await complain(usageText(faults, "earthbell --help", page));
    return exitStatus.wrongInput;
  }
  await print(given.has("version") ? [version] : programHelp(commands, page));
  return exitStatus.made;
}

async function runCommand(command: Command, words: readonly string[], world: World): Promise<ExitStatus> {
  const { arguments: given, faults } = parseArguments(words, [...command.options, ...commonOptions]);
  const desk = deskFor(world, given);
  if (given.has("help")) {
    await desk.print(commandHelp(command, desk.page));
    return exitStatus.made;
  }
  const all = [...faults, ...operandFaults(command, given.operands)];
  if (all.length > 0) {
    await desk.complain(usageText(all, `earthbell help ${command.name}`, desk.page));
    return exitStatus.wrongInput;
  }
  return await command.run({ ...desk, arguments: given, world });
}

function operandFaults({ operands }: Command, given: readonly string[]): readonly UsageFault[] {
  if (given.length < operands.least)
    return [
      {
        code: "COMMAND_OPERAND_MISSING",
        message: `Name ${operands.what}.`,
        suggestions: [],
        lead: "example",
      },
    ];
  return given.slice(operands.most).map((extra) => ({
    code: "COMMAND_OPERAND_UNEXPECTED",
    message: `${JSON.stringify(extra)} is one word too many here.`,
    suggestions: [],
    lead: "example",
  }));
}

function deskFor(world: World, given: Call["arguments"]): Pick<Call, "page" | "print" | "complain"> {
  const { environment, terminal } = world;
  const page: Page = {
    width: pageWidth(terminal.columns, environment["COLUMNS"]),
    style: chooseStyle({ color: given.value("color"), isTerminal: terminal.isTerminal, environment }),
    ascii: asciiOnly(given.has("ascii"), environment),
  };
  return {
    page,
    print: (lines) => world.out.write(sheetText(lines, page.ascii)),
    complain: (lines) => world.err.write(sheetText(lines, page.ascii)),
  };
}

async function reportBug(error: unknown, world: World): Promise<ExitStatus> {
  try {
    await world.err.write(bugText(error, world));
  } catch {
    // Standard error cannot be written either: the status is all that is left to say.
  }
  return exitStatus.bug;
}

function bugText(error: unknown, { environment }: World): string {
  if (error instanceof OutputError)
    return `earthbell: the output is not complete: ${notWritten(error.message).why}. Make room or send it elsewhere, and run the command again. (COMMAND_OUTPUT_FAILED)\n`;
  const what = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  const first = (what.split("\n")[0] ?? "").replace(/\.$/u, "");
  const line =
    `earthbell ${version}: this is a bug, not your file: ${first.slice(0, 200)}. ` +
    "Please report it with the command line and, if you may, the file; EARTHBELL_DEBUG=1 shows the trace.\n";
  const wantsTrace = (environment["EARTHBELL_DEBUG"] ?? "") !== "";
  return wantsTrace && error instanceof Error ? `${line}${error.stack ?? ""}\n` : line;
}
