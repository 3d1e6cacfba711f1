import type { Command } from "../command.ts";
import { explain } from "./explain.ts";
import { helpFor } from "./help.ts";
import { rules } from "./rules.ts";

const working: readonly Command[] = [explain, rules];

/** Every command, in the order of the help page. */
export const commands: readonly Command[] = [...working, helpFor(working)];
