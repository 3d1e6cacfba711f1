import type { ClosedLoop, FirstReadings, NoFault, Slips } from "./measures.ts";

export interface Accuracy {
  readonly date: string;
  readonly seed: number;
  readonly version: string;
  readonly first: readonly FirstReadings[];
  readonly halfDecades: readonly FirstReadings[];
  readonly closed: readonly ClosedLoop[];
  readonly noFault: NoFault;
  readonly slips: readonly Slips[];
}

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
const ohms = (value: number): string =>
  value >= 1e6
    ? `${String(value / 1e6)} MΩ`
    : value >= 1e3
      ? `${String(value / 1e3)} kΩ`
      : `${String(value)} Ω`;

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  return [
    `| ${head.join(" | ")} |`,
    `|${head.map(() => "---").join("|")}|`,
    ...rows.map((row) => `| ${row.join(" | ")} |`),
  ].join("\n");
}

function firstTable(rows: readonly FirstReadings[]): string {
  return table(
    [
      "fault",
      "cases",
      "exact",
      "within one module",
      "hand rule",
      "bound (truth's own prior)",
      "90 % sets hold",
      "they claim",
      "places in a set",
      "called no-fault",
    ],
    rows.map((row) => [
      `${ohms(row.ohms[0])} to ${ohms(row.ohms[1])}`,
      String(row.cases),
      percent(row.exact),
      percent(row.withinOne),
      `${percent(row.handExact)} / ${percent(row.handWithinOne)}`,
      `${percent(row.oracleExact)} / ${percent(row.oracleWithinOne)}`,
      percent(row.covered),
      percent(row.claimed),
      row.setSize.toFixed(1),
      percent(row.calledNoFault),
    ]),
  );
}

export function accuracyReport(results: Accuracy): string {
  return `# The finder on simulated truth

Date ${results.date}, version ${results.version}, seed ${String(results.seed)}. Regenerate with \`npm run bench -- finder-accuracy\`.

World: meter 0.3 % + 0.1 V, input 10 MΩ ± 1 %, mismatch 0.5 %, drift 0.4 % a reading, 10 to 26 modules of three sub-strings,
even healthy leakage of 10 MΩ to 2 GΩ a module; every junction and sub-string boundary alike. Errors are normal, gain and
offset independent. The truth is solved as a network, the finder reads it by its closed forms.

## From the first five readings

+ to −, each pole to earth, each pole again with 100 kΩ across the meter.

${firstTable(results.first)}

By half-decade:

${firstTable(results.halfDecades)}

The bound is the same inference told how the truth was drawn (every place alike). The finder itself holds junctions
likelier than places inside a module, which is right for real arrays and costs a little here. A set of whole places holds more
than its level whenever one place alone does; compare "hold" with "claim".

## Following the plan to its end

${table(
  [
    "family",
    "cases",
    "exact place",
    "right string",
    "openings besides the confirming one",
    "isolations (allowed log₂ + 1)",
    "minutes",
    "called more than one",
  ],
  results.closed.map((row) => [
    row.name,
    String(row.cases),
    percent(row.exact),
    percent(row.rightString),
    row.openingsBesideConfirming.toFixed(2),
    `${row.isolations.toFixed(2)} (${row.isolationsAllowed.toFixed(2)})`,
    row.minutes.toFixed(0),
    percent(row.moreThanOneEver),
  ]),
)}

## No fault

${String(results.noFault.cases)} sound strings: called no-fault ${percent(results.noFault.calledNoFault)}, a place wrongly named ${percent(results.noFault.wronglyNamed)}.

## One reading of five spoiled

${table(
  ["slip", "cases", "flagged", "the right reading named first"],
  results.slips.map((row) => [row.blunder, String(row.cases), percent(row.flagged), percent(row.namedFirst)]),
)}
`;
}
