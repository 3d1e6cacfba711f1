import { nearest } from "./nearest.ts";
import type { Option } from "./option.ts";
import type { UsageFault } from "./usage-fault.ts";

/** What stood on the command line after the name of the command. */
export interface Arguments {
  readonly operands: readonly string[];
  readonly has: (option: string) => boolean;
  /** The last value given, as the last word wins. */
  readonly value: (option: string) => string | undefined;
  readonly values: (option: string) => readonly string[];
}

export interface ParsedArguments {
  readonly arguments: Arguments;
  /** Everything that is wrong with the line, all at once. */
  readonly faults: readonly UsageFault[];
}

/**
 * Reads the words of a command line against the options a command takes.
 *
 * Forms: `--name`, `--name value`, `--name=value`, `-h` for `--help`; `-` is an operand (standard input); everything after
 * `--` is an operand. A word that begins with a dash and is not a known option is a fault with the nearest known option.
 */
export function parseArguments(words: readonly string[], options: readonly Option[]): ParsedArguments {
  const operands: string[] = [];
  const given = new Map<string, string[]>();
  const faults: UsageFault[] = [];
  const rest = [...words];
  for (let word = rest.shift(); word !== undefined; word = rest.shift()) {
    if (word === "--") {
      operands.push(...rest.splice(0));
    } else if (word === "-" || !word.startsWith("-")) {
      operands.push(word);
    } else {
      const fault = takeOption(word === "-h" ? "--help" : word, { rest, options, given });
      if (fault) faults.push(fault);
    }
  }
  const values = (name: string): readonly string[] => given.get(name) ?? [];
  return {
    arguments: { operands, has: (name) => given.has(name), value: (name) => values(name).at(-1), values },
    faults,
  };
}

interface OptionReading {
  readonly rest: string[];
  readonly options: readonly Option[];
  readonly given: Map<string, string[]>;
}

function takeOption(word: string, { rest, options, given }: OptionReading): UsageFault | null {
  const [, name = word, joined] = /^--([^=]*)(?:=(.*))?$/su.exec(word) ?? [];
  const option = options.find((one) => one.name === name);
  if (!option) return unknownOption(word, name, options);
  if (option.value === undefined) {
    given.set(name, []);
    return joined === undefined ? null : valueUnexpected(option, joined);
  }
  const value = joined ?? (rest[0] === "-" || !rest[0]?.startsWith("-") ? rest.shift() : undefined);
  if (value === undefined || value === "") return valueMissing(option);
  if (option.choices && !option.choices.includes(value)) return valueUnknown(option, value);
  const before = given.get(name) ?? [];
  if (before.length > 0 && option.repeatable !== true) return repeated(option);
  given.set(name, [...before, value]);
  return null;
}

function unknownOption(word: string, name: string, options: readonly Option[]): UsageFault {
  const known = options.map((one) => one.name);
  const close = nearest(name.replace(/^-+/u, ""), known);
  return {
    code: "COMMAND_OPTION_UNKNOWN",
    message: `There is no option ${word.split("=", 1)[0] ?? word} here.`,
    suggestions: (close.length > 0 ? close : known).map((one) => `--${one}`),
    lead: close.length > 0 ? "near" : "all",
  };
}

function valueUnexpected(option: Option, value: string): UsageFault {
  return {
    code: "COMMAND_VALUE_UNEXPECTED",
    message: `--${option.name} takes no value, but ${JSON.stringify(value)} was given.`,
    suggestions: [`--${option.name}`],
    lead: "near",
  };
}

function valueMissing(option: Option): UsageFault {
  const example = option.choices ? option.choices.join("|") : (option.value ?? "");
  return {
    code: "COMMAND_VALUE_MISSING",
    message: `--${option.name} needs a value.`,
    suggestions: [`--${option.name} ${example}`],
    lead: "near",
  };
}

function valueUnknown(option: Option, value: string): UsageFault {
  const choices = option.choices ?? [];
  const close = nearest(value, choices);
  return {
    code: "COMMAND_VALUE_UNKNOWN",
    message: `--${option.name} does not know ${JSON.stringify(value)}.`,
    suggestions: (close.length > 0 ? close : choices).map((one) => `--${option.name}=${one}`),
    lead: close.length > 0 ? "near" : "all",
  };
}

function repeated(option: Option): UsageFault {
  return {
    code: "COMMAND_OPTION_REPEATED",
    message: `--${option.name} is given more than once and only one can hold.`,
    suggestions: [],
    lead: "example",
  };
}
