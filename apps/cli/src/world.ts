import type { Writer } from "./output/writer.ts";

/** Everything outside the program that a command may touch, so that tests can give it another one. */
export interface World {
  readonly environment: Readonly<Record<string, string | undefined>>;
  readonly out: Writer;
  readonly err: Writer;
  readonly standardInput: () => AsyncIterable<Uint8Array>;
  /** Whether output is a terminal and how wide it is. */
  readonly terminal: { readonly isTerminal: boolean; readonly columns: number | undefined };
  /** Calendar date here, YYYY-MM-DD. */
  readonly today: () => string;
  /** Uniform in [0, 1). */
  readonly random: () => number;
  /** Aborted when the process is asked to stop; asking for it keeps the process from ending at once. */
  readonly stopSignal: () => AbortSignal;
  /** The web app that the desk serves, where it was built. */
  readonly webFolder?: string;
  /** The folder of the demonstration that ships with the program. */
  readonly demoFolder: string;
}
