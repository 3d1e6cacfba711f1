import { PATH_CODES, SITE_CODES } from "@earthbell/engine";
import { commandCodes } from "./command-codes.ts";
import type { Entry } from "./entry.ts";
import { fileCodes } from "./file-codes.ts";
import { verdictCodes } from "./verdict-codes.ts";

/** Groups of findings, by the beginning of their codes. */
const findingGroups: readonly (readonly [string, string])[] = [
  ["DUTY_", "the duty of an array"],
  ["PROOF_", "the test resistor"],
  ["OWNER_", "the owner"],
  ["PATH_", "paths"],
];

/** Everything `earthbell explain` can explain, group by group. */
export const catalogue: readonly Entry[] = [
  ...commandCodes,
  ...fileCodes,
  ...[...SITE_CODES, ...PATH_CODES].map((entry) => ({
    code: entry.code,
    group: findingGroups.find(([start]) => entry.code.startsWith(start))?.[1] ?? "findings",
    title: entry.title,
    meaning: entry.meaning,
    next: entry.next,
    severity: entry.severity,
    from: `${entry.source}; ${entry.tag}`,
  })),
  ...verdictCodes,
];
