import { type Expected, PRECONDITIONS, type ProofStep } from "@earthbell/engine";
import { cautionBoxOf } from "../../content/caution-box.ts";
import type { Block } from "../../content/paper.ts";
import { quantityWords } from "../../content/quantity-words.ts";

/** One step of a proof: what to read first, what must be recorded before, what to do, and the lines for its readings. */
export function stepBlocks(step: ProofStep, number: number, told: Set<string>): readonly Block[] {
  const title = `${number}. ${capital(step.id.replaceAll("-", " "))}`;
  if (step.leftOut !== null)
    return [
      { kind: "heading", level: 2, text: `${title}: left out` },
      { kind: "paragraph", text: `${step.do} ${step.leftOut}` },
    ];
  return [
    { kind: "heading", level: 2, text: title },
    ...cautionsBefore(step, number, told),
    ...(step.requires.length === 0
      ? []
      : [{ kind: "checklist", items: step.requires.map((id) => ({ text: PRECONDITIONS[id] })) } as const]),
    { kind: "paragraph", weight: "lead", text: step.do },
    ...readingsTable(step.expected),
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
  const repeated = again.length === 0 ? [] : [`As before: ${again.join(", ")}.`];
  if (fresh.length + more.length + repeated.length === 0) return [];
  return [cautionBoxOf(fresh, `Before step ${number}`, [...more, ...repeated])];
}

function readingsTable(expected: readonly Expected[]): readonly Block[] {
  if (expected.length === 0) return [];
  return [
    {
      kind: "table",
      caption: "",
      toWrite: true,
      columns: [
        { head: "What it should show", share: 0.34 },
        { head: "Limit", share: 0.13 },
        { head: "Where it comes from", share: 0.19 },
        { head: "Reading", share: 0.14 },
        { head: "With", share: 0.09 },
        { head: "Yes / no", share: 0.11 },
      ],
      rows: expected.map(({ text, value, dimension, source, tag }) => [
        text,
        value === undefined || dimension === undefined ? "" : quantityWords(value, dimension),
        `${source}; ${tag}`,
        "",
        "",
        "☐ / ☐",
      ]),
    },
  ];
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
