import type { Command } from "../command.ts";
import { explain } from "./explain.ts";
import { helpFor } from "./help.ts";

const working: readonly Command[] = [explain];

/** Every command, in the order of the help page. */
export const commands: readonly Command[] = [...working, helpFor(working)];
