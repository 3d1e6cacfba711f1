import type { Arguments } from "./command-line/arguments.ts";
import type { Option } from "./command-line/option.ts";
import type { ExitStatus } from "./exit-status.ts";
import type { Page } from "./terminal/page.ts";
import type { World } from "./world.ts";

/** One command: what it says of itself, and what it does. */
export interface Command {
  readonly name: string;
  /** One line for the list of commands. */
  readonly summary: string;
  readonly operands: {
    /** As in the usage line: `SITE…`. Empty when there are none. */
    readonly shape: string;
    readonly least: number;
    readonly most: number;
    /** What an operand is, for the message when one is missing. */
    readonly what: string;
  };
  readonly options: readonly Option[];
  /** Paragraphs for somebody who meets the command for the first time. */
  readonly description: readonly string[];
  /** One real line to type, and what it shows. */
  readonly example: { readonly line: string; readonly shows: string };
  readonly statuses: readonly { readonly status: ExitStatus; readonly when: string }[];
  readonly run: (call: Call) => Promise<ExitStatus>;
}

/** One call of a command. */
export interface Call {
  readonly arguments: Arguments;
  readonly page: Page;
  readonly world: World;
  /** Prints lines laid out for the page on standard output. */
  readonly print: (lines: readonly string[]) => Promise<void>;
  /** The same on standard error. */
  readonly complain: (lines: readonly string[]) => Promise<void>;
}
