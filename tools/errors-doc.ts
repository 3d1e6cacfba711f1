import { catalogue } from "../apps/cli/src/catalogue/catalogue.ts";
import type { Entry } from "../apps/cli/src/catalogue/entry.ts";

/** docs/errors.md as the catalogues have it now. */
export function errorsDocument(entries: readonly Entry[] = catalogue): string {
  const groups = [...new Set(entries.map((entry) => entry.group))];
  const sections = groups.flatMap((group) => [
    `## About ${group}`,
    "",
    ...entries.filter((entry) => entry.group === group).flatMap(section),
  ]);
  return [...head, ...sections].join("\n").trimEnd() + "\n";
}

const head: readonly string[] = [
  "# Errors and findings",
  "",
  "Every code the program prints, what it means and what to do. Codes never change; texts may.",
  "`earthbell explain CODE` says the same. This file is written from the catalogues in the code by",
  "`node tools/errors-doc.mjs`, and `npm test` fails when the two differ.",
  "",
];

function section(entry: Entry): string[] {
  const { code, title, meaning, causes, next, severity, from } = entry;
  return [
    `### ${code}`,
    "",
    `**${title}.** ${meaning}`,
    "",
    ...(severity === undefined ? [] : [`- Weight: ${severity}`]),
    ...(causes === undefined || causes.length === 0 ? [] : [`- Often: ${causes.join("; ")}`]),
    `- Do: ${next}`,
    ...(from === undefined ? [] : [`- Source: ${from}`]),
    "",
  ];
}

/** What differs between a written docs/errors.md and the catalogues, code by code and in both directions. */
export function differences(written: string, entries: readonly Entry[] = catalogue): string[] {
  const inFile = new Set([...written.matchAll(/^### (.+)$/gmu)].map((match) => match[1]!));
  const inCode = new Set(entries.map((entry) => entry.code));
  const found = [
    ...[...inCode].filter((code) => !inFile.has(code)).map((code) => `${code}: not in docs/errors.md`),
    ...[...inFile].filter((code) => !inCode.has(code)).map((code) => `${code}: only in docs/errors.md`),
  ];
  if (found.length > 0) return found;
  return written === errorsDocument(entries) ? [] : ["a text in docs/errors.md differs from the catalogue"];
}
