import type { Entry } from "./entry.ts";

const group = "the command line";

/** What can be wrong with a command line. */
export const commandCodes: readonly Entry[] = [
  {
    code: "COMMAND_NAME_UNKNOWN",
    group,
    title: "There is no such command",
    meaning: "The first word is not the name of a command.",
    next: "Type the suggested name, or `earthbell help` for the list.",
  },
  {
    code: "RULES_OVERRIDE_STALE",
    group,
    title: "An override is set aside, since the pack says another value now",
    meaning:
      "replaces tells what the pack said when somebody decided on the override; the pack that is held here says something else. The pack's own value holds, and the command goes on.",
    next: "Hand over the desk's own pack with --rules, or look at the override again and put it anew against what the pack says now.",
  },
  {
    code: "COMMAND_OPTION_UNKNOWN",
    group,
    title: "The command has no such option",
    meaning: "A word begins with a dash and is not an option of this command.",
    next: "Type the suggested option. For a file whose name begins with a dash, write `--` before it.",
  },
  {
    code: "COMMAND_OPTION_REPEATED",
    group,
    title: "An option is given twice",
    meaning: "Only one value can hold, and two were given.",
    next: "Leave one of them out.",
  },
  {
    code: "COMMAND_VALUE_MISSING",
    group,
    title: "An option lacks its value",
    meaning: "The option says something only together with a value.",
    next: "Write the value after the option, or after an equals sign.",
  },
  {
    code: "COMMAND_VALUE_UNEXPECTED",
    group,
    title: "A switch was given a value",
    meaning: "The option is either there or not; it has no value.",
    next: "Leave out the equals sign and what follows.",
  },
  {
    code: "COMMAND_VALUE_UNKNOWN",
    group,
    title: "The option does not know this value",
    meaning: "The option takes one of a few words, or a value of a certain form, and this is neither.",
    next: "Use one of the values listed with the message.",
  },
  {
    code: "COMMAND_OPERAND_MISSING",
    group,
    title: "A word is missing",
    meaning: "The command needs a file or a name to work on.",
    next: "Name it after the command; `-` stands for standard input.",
  },
  {
    code: "COMMAND_OPERAND_UNEXPECTED",
    group,
    title: "One word too many",
    meaning: "The command takes fewer words than were given.",
    next: "Leave the word out, or look at `earthbell help COMMAND`.",
  },
  {
    code: "COMMAND_INPUT_REPEATED",
    group,
    title: "Standard input is named twice",
    meaning: "Standard input can be read once only.",
    next: "Name `-` once.",
  },
  {
    code: "COMMAND_PART_UNKNOWN",
    group,
    title: "The site has no such array or path",
    meaning: "The command line names an array or a path by its id, and the site file holds none of that id.",
    next: "Name one of those listed with the message, or leave the option out to have all of them.",
  },
  {
    code: "COMMAND_DRAWING_NOT_ONE",
    group,
    title: "There is not exactly one thing to draw",
    meaning:
      "A drawing holds one loop, one curve or one map, and there is none that can be drawn, or several.",
    next: "Name one path, one array or one file; where there is none, see what the page says is missing.",
  },
  {
    code: "COMMAND_OUTPUT_FAILED",
    group,
    title: "The output could not be written",
    meaning:
      "The system refused to take more of what is printed: the disk on which it is kept is full, say. What came out before is not complete.",
    next: "Make room or send the output elsewhere, and run the command again.",
  },
  {
    code: "COMMAND_SITE_INCOMPLETE",
    group,
    title: "Too little was answered to write a site file",
    meaning:
      "A site file states at least where the site is, its modules, strings and inverter, and one of these is not known yet.",
    next: "Answer what the message names and save again; the advice itself can be read without it.",
  },
];
