import type { FieldFaults } from "../commissioning/field-faults.ts";
import type { StepStanding } from "../commissioning/step-standing.ts";
import type { SheetStep } from "./setting-sheet-form.ts";

/** Letters of what is to be done that are shown of a folded step: two lines on a phone. */
const MOST = 80;

/** How a step of a setting sheet stands, and what it is to do. A caution of its own is said as well. */
export function standingOfSheetStep(step: SheetStep, at: number, wrong: FieldFaults): StepStanding {
  const is = stateOf(
    step,
    [...wrong.keys()].some((field) => field.startsWith(`steps[${at}].`)),
  );
  const told = [...(step.caution.trim() === "" ? [] : ["with a caution"]), ...doing(step)].join(": ");
  return told === "" ? is : { ...is, entered: told };
}

function stateOf(step: SheetStep, wrong: boolean): StepStanding {
  if (wrong) return { state: "unsure", word: "To be put right" };
  if (step.do.trim() !== "" && step.source.trim() !== "") return { state: "proven", word: "Written" };
  return { state: "none", word: doing(step).length === 0 ? "Nothing to do yet" : "Without its source" };
}

function doing({ do: words }: SheetStep): readonly string[] {
  const plain = words.trim().replaceAll(/\s+/gu, " ");
  if (plain === "") return [];
  if (plain.length <= MOST) return [plain];
  const space = plain.lastIndexOf(" ", MOST);
  return [`${plain.slice(0, space < 0 ? MOST : space)}…`];
}
