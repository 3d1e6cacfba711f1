import { LIMITS_SEED, type Limit } from "./limits.ts";

/** The page limits.md: where the closed forms stop holding, as measured. */
export function limitsPage(limits: readonly Limit[], ngspice: string, date: string): string {
  const tables = [...new Set(limits.map(({ table }) => table))];
  const sections = tables.flatMap((table) => [
    "",
    `## ${table[0]!.toUpperCase()}${table.slice(1)}`,
    "",
    "| departure | reading off by, % of V_oc | place off by, modules | our network off by, % of V_oc |",
    "|---|---|---|---|",
    ...limits.filter((limit) => limit.table === table).map(limitRow),
  ]);
  return [
    "# Where the closed forms of a floating string stop holding",
    "",
    `Measured on ${date} with ${ngspice}, seed ${LIMITS_SEED}. Written by \`node tools/circuit-limits.mjs\`; do not edit by hand.`,
    "limits.check.ts measures again and fails when a figure here is no longer true.",
    "",
    "Truth is ngspice on single-diode modules with three bypass diodes each. The closed forms are given what a person has: the",
    "open-circuit voltage of each string as measured, all modules taken as equal, the leaks as they are. Strings of 20 modules,",
    "2 GΩ of healthy insulation a module, one fault of 50 kΩ at node 7 unless the heading says otherwise, 10 MΩ meter.",
    "The last column is the engine's own network model on the same array: it has no such limit.",
    ...sections,
    "",
  ].join("\n");
}

function limitRow(limit: Limit): string {
  const { size, readingPercent, placeModules, networkPercent } = limit;
  const network = networkPercent < 0.0005 ? "< 0.0005" : networkPercent.toFixed(4);
  return `| ${size} | ${readingPercent.toFixed(3)} | ${placeModules.toFixed(3)} | ${network} |`;
}
