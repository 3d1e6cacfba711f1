import type { Commissioning } from "@earthbell/model";
import type { Block } from "../../content/paper.ts";

const INSTRUMENT_LINES = 5;
const CONDITION_LINES = 2;
const ROLES = [
  ["tested", "Tested by"],
  ["witnessed", "Witnessed by"],
  ["handed-over", "Handed over to"],
] as const;

/** Who did the work and when, under which conditions and with which instruments; lines to write on where nothing is recorded. */
export function workBlocks(results: Commissioning | null): readonly Block[] {
  return [
    { kind: "fields", rows: whoAndWhen(results) },
    { kind: "heading", level: 1, text: "Conditions and instruments" },
    {
      kind: "table",
      caption: "",
      toWrite: results === null,
      columns: [
        "Time",
        "Sky and rain",
        "Array dry or wet",
        "Air °C",
        "Back of module °C",
        "Irradiance W/m²",
      ].map((head) => ({ head, share: 1 / 6 })),
      rows: results === null ? blankRows(CONDITION_LINES, 6) : results.conditions.map(conditionCells),
    },
    {
      kind: "table",
      caption: "Each instrument by its letter in the tables below",
      toWrite: results === null,
      columns: [
        { head: "Letter", share: 0.09 },
        { head: "Instrument", share: 0.3 },
        { head: "Its number", share: 0.2 },
        { head: "Calibrated on", share: 0.17 },
        { head: "Proved on a known source", share: 0.24 },
      ],
      rows: results === null ? instrumentLines() : results.instruments.map(instrumentCells),
    },
  ];
}

function whoAndWhen(results: Commissioning | null): { readonly label: string; readonly value?: string }[] {
  const [on, by] = ["Work done on", "Done by, with licence number"];
  if (results === null) return [{ label: on }, { label: by }];
  const { name, licence } = results.by;
  const words = licence === undefined ? `${name}; no licence number is recorded` : `${name}, ${licence}`;
  return [
    { label: on, value: results.on },
    { label: by, value: words },
  ];
}

function blankRows(count: number, columns: number): readonly (readonly string[])[] {
  return Array.from({ length: count }, () => Array.from({ length: columns }, () => ""));
}

function conditionCells({
  time,
  sky,
  array,
  air,
  module,
  irradiance,
}: Commissioning["conditions"][number]): readonly string[] {
  return [time, sky ?? "—", array, shown(air), shown(module), shown(irradiance)];
}

function shown(value: number | undefined): string {
  return value === undefined ? "—" : String(value);
}

function instrumentLines(): readonly (readonly string[])[] {
  return Array.from({ length: INSTRUMENT_LINES }, (_, index) => [
    String.fromCharCode(65 + index),
    "",
    "",
    "",
    "☐ before ☐ after",
  ]);
}

function instrumentCells(one: Commissioning["instruments"][number]): readonly string[] {
  const proved = [...(one.provedBefore ? ["before"] : []), ...(one.provedAfter ? ["after"] : [])];
  return [one.id, one.what, one.number, one.calibrated, proved.length === 0 ? "▲ no" : proved.join(" and ")];
}

/** Lines to sign on; whoever is recorded stands there by name, and still signs by hand. */
export function signOff(results: Commissioning | null): readonly Block[] {
  const named = (results?.signatures ?? []).map(({ as, name, on }) => ({
    role: ROLES.find(([word]) => word === as)![1],
    name,
    on,
  }));
  return [
    { kind: "heading", level: 1, text: "Sign-off" },
    { kind: "signatures", roles: ROLES.map(([, words]) => words), named },
  ];
}
