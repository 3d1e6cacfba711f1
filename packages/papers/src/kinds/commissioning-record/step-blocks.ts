import { alternativeOf, type Expected, type ProofStep } from "@earthbell/engine";
import type { Commissioning } from "@earthbell/model";
import { cautionBoxOf } from "../../content/caution-box.ts";
import type { Block } from "../../content/paper.ts";
import { quantityWords } from "../../content/quantity-words.ts";
import { boxesFor, type Letters } from "./preconditions.ts";

export type Result = Commissioning["results"][number];

/** What the steps of one array and path have in common. */
export interface Steps {
  readonly letters: Letters;
  /** Ids and texts of cautions that were spelled out before. */
  readonly told: Set<string>;
  /** Results of this array and path, by the id of their step; null: the paper is filled in by hand. */
  readonly results: ReadonlyMap<string, readonly Result[]> | null;
}

/** One step of a proof: what to read first, what must hold before, what to do, and its readings or the lines for them. */
export function stepBlocks(step: ProofStep, number: number, steps: Steps): readonly Block[] {
  const title = `${number}. ${capital(step.id.replaceAll("-", " "))}`;
  if (step.leftOut !== null)
    return [
      { kind: "heading", level: 2, text: `${title}: left out` },
      { kind: "paragraph", text: `${step.do} ${step.leftOut}` },
    ];
  const { results } = steps;
  return [
    { kind: "heading", level: 2, text: title },
    ...cautionsBefore(step, number, steps.told),
    ...(results === null ? boxesFor(step.requires, steps.letters) : []),
    { kind: "paragraph", weight: "lead", text: step.do },
    ...(results === null
      ? linesToWrite(step.expected, number)
      : resultsTable(step.expected, number, results.get(step.id) ?? [])),
  ];
}

/** A caution is spelled out before the first step it belongs to, and named again before the later ones. */
function cautionsBefore(
  { cautions, warnings }: ProofStep,
  number: number,
  told: Set<string>,
): readonly Block[] {
  const fresh = cautions.filter((id) => !told.has(id));
  const again = cautions.filter((id) => told.has(id)).map((id) => id.replaceAll("-", " "));
  const more = warnings.filter((text) => !told.has(text));
  for (const one of [...fresh, ...more]) told.add(one);
  const named = again.length === 0 ? "" : `Cautions as before: ${again.join(", ")}.`;
  if (fresh.length + more.length === 0)
    return named === "" ? [] : [{ kind: "paragraph", weight: "aside", text: named }];
  return [cautionBoxOf(fresh, `Before step ${number}`, [...more, ...(named === "" ? [] : [named])])];
}

const COLUMNS = [
  { head: "Line", share: 0.07 },
  { head: "What it should show", share: 0.28 },
  { head: "Limit", share: 0.12 },
  { head: "Where it comes from", share: 0.22 },
  { head: "Reading", share: 0.14 },
  { head: "With", share: 0.07 },
  { head: "Yes / no", share: 0.1 },
] as const;

function linesToWrite(expected: readonly Expected[], number: number): readonly Block[] {
  if (expected.length === 0) return [];
  const rows = expected.map((one, index) => [...lineCells(one, number, index), "", "", "☐ / ☐"]);
  return [{ kind: "table", caption: "", toWrite: true, columns: COLUMNS, rows }];
}

function lineCells(one: Expected, number: number, index: number): readonly string[] {
  const { text, value, dimension, source, tag } = one;
  return [
    `${number}.${index + 1}`,
    text,
    value === undefined || dimension === undefined ? "" : quantityWords(value, dimension),
    `${source}; ${tag}`,
  ];
}

/** What was read, line by line; a line without a result says that it was not recorded. */
function resultsTable(
  expected: readonly Expected[],
  number: number,
  results: readonly Result[],
): readonly Block[] {
  const onRecord = new Set(
    results.flatMap(({ line = 1 }) => {
      const read = expected[line - 1];
      return read === undefined ? [] : [alternativeOf(read)];
    }),
  );
  const rows = expected.flatMap((one, index) => {
    const own = results.filter(({ line = 1 }) => line === index + 1);
    const cells = lineCells(one, number, index);
    if (own.length === 0 && onRecord.has(alternativeOf(one))) return [];
    return own.length === 0
      ? [[...cells, "not recorded", "", "◆"]]
      : own.map((result) => [...withLimit(cells, result), ...resultCells(result)]);
  });
  if (expected.length === 0)
    rows.push(...results.map((result) => [`${number}`, "", "", "", ...resultCells(result)]));
  return rows.length === 0 ? [] : [{ kind: "table", caption: "", columns: COLUMNS, rows }];
}

function withLimit(cells: readonly string[], { limit, limitFrom }: Result): readonly string[] {
  if (limit === undefined) return cells;
  return [...cells.slice(0, 2), limit, limitFrom ?? "whoever recorded it gives no source"];
}

function resultCells({ at, reading, with: instrument, passed, note }: Result): readonly string[] {
  const place = at === undefined ? "" : `${at}: `;
  const more = note === undefined ? "" : ` (${note})`;
  return [`${place}${reading}${more}`, instrument ?? "", passed ? "● yes" : "▲ no"];
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
