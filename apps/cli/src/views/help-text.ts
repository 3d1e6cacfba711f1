import { commonOptions, type Option } from "../command-line/option.ts";
import type { Command } from "../command.ts";
import type { Page } from "../terminal/page.ts";
import { definitions, type Entry } from "../terminal/definitions.ts";
import { readingText, shellLine } from "../terminal/section.ts";
import { wrap } from "../terminal/wrap.ts";

/** What `earthbell` alone and `earthbell --help` say. */
export function programHelp(commands: readonly Command[], page: Page): string[] {
  return [
    ...wrap("earthbell — for whoever answers for the earth-fault alarm on solar arrays", page.width).map(
      page.style.strong,
    ),
    "",
    ...readingText(
      "Decide what the alarm must be, engineer how it reaches a person, prove it, and find the damaged place.",
      page,
    ),
    "",
    page.style.strong("Commands"),
    ...definitions(
      commands.map((command) => ({ term: usage(command), text: command.summary })),
      page,
    ),
    "",
    page.style.strong("Begin here"),
    ...definitions(
      [
        { term: "earthbell demo", text: "look at an invented set of sites and one search for a fault" },
        { term: "earthbell help assess", text: "what a command does, with a line to try" },
      ],
      page,
    ),
    "",
    page.style.strong("Options of every command"),
    ...definitions(optionEntries([...commonOptions, { name: "version", help: "print the version" }]), page),
    "",
    ...readingText(
      "It advises licensed people. Where a standard, a local code or the authority says otherwise, they win.",
      page,
    ),
  ];
}

/** What `earthbell help COMMAND` and `earthbell COMMAND --help` say. */
export function commandHelp(command: Command, page: Page): string[] {
  return [
    ...wrap(`earthbell ${command.name} — ${command.summary}`, page.width).map(page.style.strong),
    "",
    ...wrap(`Usage: earthbell ${usage(command)} [OPTION]…`, page.width),
    ...command.description.flatMap((paragraph) => ["", ...readingText(paragraph, page)]),
    "",
    page.style.strong("For example"),
    ...shellLine(command.example.line, page).map(page.style.copper),
    ...readingText(command.example.shows, page, 2),
    "",
    page.style.strong("Options"),
    ...definitions(optionEntries([...command.options, ...commonOptions]), page),
    "",
    page.style.strong("Exit status"),
    ...definitions(
      command.statuses.map(({ status, when }) => ({ term: String(status), text: when })),
      page,
    ),
  ];
}

function usage(command: Command): string {
  return [command.name, command.operands.shape].filter((part) => part !== "").join(" ");
}

function optionEntries(options: readonly Option[]): readonly Entry[] {
  return options.map(({ name, value, repeatable, help }) => ({
    term: `--${name}${value === undefined ? "" : ` ${value}`}${repeatable === true ? " …" : ""}`,
    text: help,
  }));
}
