import { commonOptions, type Option } from "../command-line/option.ts";
import type { Command } from "../command.ts";
import type { Page } from "../terminal/page.ts";
import { displayWidth } from "../terminal/width.ts";
import { padEnd, wrap } from "../terminal/wrap.ts";

const readingWidth = 76;

/** What `earthbell` alone and `earthbell --help` say. */
export function programHelp(commands: readonly Command[], page: Page): string[] {
  return [
    page.style.strong("earthbell") + " — for whoever answers for the earth-fault alarm on solar arrays",
    "",
    ...prose(
      "Decide what the alarm must be, engineer how it reaches a person, prove it, and find the damaged place.",
      page,
    ),
    "",
    page.style.strong("Commands"),
    ...entries(
      commands.map((command) => ({ term: usage(command), text: command.summary })),
      page,
    ),
    "",
    page.style.strong("Begin here"),
    ...entries(
      [
        { term: "earthbell demo", text: "look at an invented set of sites and one search for a fault" },
        { term: "earthbell help assess", text: "what a command does, with a line to try" },
      ],
      page,
    ),
    "",
    page.style.strong("Options of every command"),
    ...entries(optionEntries([...commonOptions, { name: "version", help: "print the version" }]), page),
    "",
    ...prose(
      "It advises licensed people. Where a standard, a local code or the authority says otherwise, they win.",
      page,
    ),
  ];
}

/** What `earthbell help COMMAND` and `earthbell COMMAND --help` say. */
export function commandHelp(command: Command, page: Page): string[] {
  return [
    `${page.style.strong(`earthbell ${command.name}`)} — ${command.summary}`,
    "",
    ...wrap(`Usage: earthbell ${usage(command)} [OPTION]…`, page.width),
    ...command.description.flatMap((paragraph) => ["", ...prose(paragraph, page)]),
    "",
    page.style.strong("For example"),
    `  ${page.style.copper(command.example.line)}`,
    ...prose(command.example.shows, page, 2),
    "",
    page.style.strong("Options"),
    ...entries(optionEntries([...command.options, ...commonOptions]), page),
    "",
    page.style.strong("Exit status"),
    ...entries(
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

function prose(text: string, page: Page, indent = 0): string[] {
  const width = Math.min(readingWidth, page.width) - indent;
  return wrap(text, width).map((line) => " ".repeat(indent) + line);
}

interface Entry {
  readonly term: string;
  readonly text: string;
}

/** Terms on the left, what they mean on the right; below each other when the page is too narrow for both. */
function entries(list: readonly Entry[], page: Page): string[] {
  const term = Math.max(...list.map((entry) => displayWidth(entry.term)));
  const beside = page.width - term - 4 >= 24;
  return list.flatMap((entry) => {
    if (!beside) return [`  ${entry.term}`, ...prose(entry.text, page, 6)];
    const [first = "", ...more] = wrap(entry.text, Math.min(readingWidth, page.width - term - 4));
    return [`  ${padEnd(entry.term, term)}  ${first}`, ...more.map((line) => " ".repeat(term + 4) + line)];
  });
}
