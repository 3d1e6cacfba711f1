import { type PathProof, type PreconditionId, PRECONDITIONS } from "@earthbell/engine";
import type { Block } from "../../content/paper.ts";

/** The letter under which each precondition stands on the paper, in the order in which the steps first ask for it. */
export type Letters = ReadonlyMap<PreconditionId, string>;

export function lettersOf(proofs: readonly PathProof[]): Letters {
  const asked = new Set(proofs.flatMap(({ steps }) => steps.flatMap(({ requires }) => requires)));
  return new Map([...asked].map((id, index) => [id, String.fromCharCode(97 + index)]));
}

/** What has to hold before steps, said once; each step names it by its letter and has a box for it. */
export function preconditionBlocks(letters: Letters): readonly Block[] {
  if (letters.size === 0) return [];
  return [
    { kind: "heading", level: 1, text: "What must hold before a step" },
    {
      kind: "paragraph",
      text: "Each step names by its letters what must hold before it. Make sure of it there and then, tick it there, and do not take the step while a box is empty.",
    },
    { kind: "list", items: [...letters].map(([id, letter]) => `${letter}: ${PRECONDITIONS[id]}`) },
  ];
}

/** `Holds now: ☐ a  ☐ c  ☐ f`. */
export function boxesFor(requires: readonly PreconditionId[], letters: Letters): readonly Block[] {
  if (requires.length === 0) return [];
  const boxes = requires.map((id) => `☐ ${letters.get(id) ?? id}`).join("   ");
  return [{ kind: "paragraph", text: `Holds now:   ${boxes}` }];
}
