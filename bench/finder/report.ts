import type { CredibleSets, FirstReadings } from "./first-readings.ts";
import type { ClosedLoop, NoFault } from "./measures.ts";
import type { Slips } from "./slips.ts";

export interface Accuracy {
  readonly date: string;
  readonly seed: number;
  readonly scale: number;
  readonly version: string;
  /** Hard and soft faults, every place alike; then the same drawn by the finder's own weights. */
  readonly first: readonly FirstReadings[];
  readonly byWeights: readonly FirstReadings[];
  readonly halfDecades: readonly FirstReadings[];
  readonly closed: readonly ClosedLoop[];
  readonly noFault: NoFault;
  readonly slips: readonly Slips[];
}

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
/** One standard error of a share, in points. */
const error = (share: number, cases: number): string =>
  (100 * Math.sqrt(Math.max(share * (1 - share), 0.25 / cases) / cases)).toFixed(1);
export const ohms = (value: number): string =>
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

const nine = (row: FirstReadings): CredibleSets => row.sets.find(({ level }) => level === 0.9)!;

function firstTable(rows: readonly FirstReadings[]): string {
  return table(
    [
      "fault",
      "cases",
      "exact",
      "within one module",
      "hand rule",
      "bound",
      "places in a 90 % set",
      "called no-fault",
    ],
    rows.map((row) => [
      `${ohms(row.ohms[0])} to ${ohms(row.ohms[1])}`,
      String(row.cases),
      `${percent(row.exact)} ± ${error(row.exact, row.cases)}`,
      `${percent(row.withinOne)} ± ${error(row.withinOne, row.cases)}`,
      `${percent(row.handExact)} / ${percent(row.handWithinOne)}`,
      `${percent(row.boundExact)} / ${percent(row.boundWithinOne)}`,
      row.setSize.toFixed(1),
      percent(row.calledNoFault),
    ]),
  );
}

function setsTable(rows: readonly FirstReadings[]): string {
  return table(
    [
      "fault",
      "truth drawn",
      "cases",
      "90 % sets hold",
      "they claim",
      "last place by share: hold",
      "one standard error",
    ],
    rows.map((row) => [
      `${ohms(row.ohms[0])} to ${ohms(row.ohms[1])}`,
      row.drawnBy === "alike" ? "every place alike" : "by the finder's weights",
      String(row.cases),
      percent(nine(row).whole),
      percent(nine(row).claimed),
      percent(nine(row).trimmed),
      `${error(0.9, row.cases)} points`,
    ]),
  );
}

function closedTable(rows: readonly ClosedLoop[]): string {
  return table(
    [
      "family",
      "cases",
      "likeliest place is damaged",
      "all damaged places named",
      "right string",
      "openings besides the confirming one",
      "isolations (allowed log₂ + 1)",
      "minutes",
      "called more than one",
    ],
    rows.map((row) => [
      row.name,
      String(row.cases),
      percent(row.exact),
      percent(row.all),
      percent(row.rightString),
      row.openingsBesideConfirming.toFixed(2),
      `${row.isolations.toFixed(2)} (${row.isolationsAllowed.toFixed(2)})`,
      row.minutes.toFixed(0),
      percent(row.moreThanOneEver),
    ]),
  );
}

function slipsTable(rows: readonly Slips[]): string {
  return table(
    ["slip", "code", "cases", "flagged", "the right reading named first", "its code given"],
    rows.map((row) => [
      row.slip,
      row.code,
      String(row.cases),
      percent(row.flagged),
      row.namedFirst === null ? "–" : percent(row.namedFirst),
      percent(row.coded),
    ]),
  );
}

export function accuracyReport(results: Accuracy): string {
  const scale = results.scale === 1 ? "" : `EARTHBELL_BENCH_SCALE=${String(results.scale)} `;
  return `# The finder on simulated truth

Date ${results.date}, version ${results.version}, seed ${String(results.seed)}. Regenerate with \`${scale}npm run bench -- finder-accuracy\`.

World: meter 0.3 % + 0.1 V, input 10 MΩ ± 1 %, mismatch 0.5 %, drift 0.4 % a reading, 10 to 26 modules of three sub-strings,
even healthy leakage of 10 MΩ to 2 GΩ a module; every junction and sub-string boundary alike. Errors are normal, gain and
offset independent. The truth is solved as a network, the finder reads it by its closed forms.

## From the first five readings

+ to −, each pole to earth, each pole again with 100 kΩ across the meter. After ± one standard error in points; hand rule and bound as
exact / within one module.

${firstTable(results.first)}

By half-decade:

${firstTable(results.halfDecades)}

The bound is the same inference told how the truth was drawn (every place alike): no method names more places exactly from
these readings. The finder itself holds junctions likelier than places inside a module, a guess about real arrays that costs a little here. Where the truth follows
that guess, the finder is its own bound:

${firstTable(results.byWeights)}

## Whether its probabilities are true

A set of whole places holds more than its level as soon as one place alone does: its last place is counted whole. Compare what the sets hold with
what they claim; or count the last place only by the share of it that the level needs, which must hold the level itself.

${setsTable([...results.first, ...results.halfDecades, ...results.byWeights])}

## Following the plan to its end

${closedTable(results.closed)}

## No fault

${String(results.noFault.cases)} sound strings: called no-fault ${percent(results.noFault.calledNoFault)}, a place wrongly named ${percent(results.noFault.wronglyNamed)}.

## Slips of the hand

One reading of five spoiled; of the string left joined, one of the ten of a circuit and its damaged string alone. Spoilings under 3 % and 1 V are drawn again.

${slipsTable(results.slips)}
`;
}
