/** One option a command takes. Without `value` it is a switch. */
export interface Option {
  /** As typed, without the two dashes. */
  readonly name: string;
  /** What stands for the value in help texts, in capitals. */
  readonly value?: string;
  /** The only values there are, where they can be listed. */
  readonly choices?: readonly string[];
  readonly repeatable?: boolean;
  /** One line of help. */
  readonly help: string;
}

/** Options that every command takes. */
export const commonOptions: readonly Option[] = [
  { name: "help", help: "say what this command does, with an example" },
  {
    name: "color",
    value: "WHEN",
    choices: ["auto", "always", "never"],
    help: "auto (default), always or never; NO_COLOR is obeyed",
  },
  { name: "ascii", help: "draw with plain ASCII characters only" },
];
