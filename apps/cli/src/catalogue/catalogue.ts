import { PATH_CODES, READING_CODES, SITE_CODES } from "@earthbell/engine";
import { DESK_CODES, FAULT_CATALOGUE, HISTORY_CODES } from "@earthbell/model";
import { calculationCodes } from "./calculation-codes.ts";
import { commandCodes } from "./command-codes.ts";
import type { Entry } from "./entry.ts";
import { fileCodes } from "./file-codes.ts";
import { paperCodes } from "./paper-codes.ts";
import { verdictCodes } from "./verdict-codes.ts";

/** What a code is about, by its beginning. */
const groups: readonly (readonly [string, string])[] = [
  ["INPUT_", "what is written in a file"],
  ["QUANTITY_", "quantities"],
  ["SITE_", "site files"],
  ["VISIT_", "visit files"],
  ["RULES_", "rule packs"],
  ["DUTY_", "the duty of an array"],
  ["PROOF_", "the test resistor"],
  ["OWNER_", "the owner"],
  ["PATH_", "paths"],
  ["READING_", "the readings of a visit"],
  ["HISTORY_", "tables of insulation readings"],
];

/** Everything `earthbell explain` can explain, group by group. */
export const catalogue: readonly Entry[] = [
  ...commandCodes,
  ...fileCodes,
  ...[...FAULT_CATALOGUE, ...HISTORY_CODES].map(({ code, title, meaning, causes, remedy }) => ({
    code,
    group: groupOf(code),
    title,
    meaning,
    causes,
    next: remedy,
  })),
  ...[...SITE_CODES, ...PATH_CODES].map(({ code, title, meaning, next, severity, source, tag }) => ({
    code,
    group: groupOf(code),
    title,
    meaning,
    next,
    severity,
    from: `${source}; ${tag}`,
  })),
  ...READING_CODES.map(({ code, title, meaning, next, source, tag }) => ({
    code,
    group: groupOf(code),
    title,
    meaning,
    next,
    from: `${source}; ${tag}`,
  })),
  ...DESK_CODES,
  ...verdictCodes,
  ...calculationCodes,
  ...paperCodes,
];

function groupOf(code: string): string {
  return groups.find(([start]) => code.startsWith(start))?.[1] ?? "other things";
}
