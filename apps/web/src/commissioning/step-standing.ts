import type { Judgement } from "@earthbell/model";
import type { StateName } from "../page/state.tsx";
import type { CommissioningForm, DrillEntry, ResultEntry } from "./commissioning-form.ts";
import type { FieldFaults } from "./field-faults.ts";
import { entriesForEveryPath, entriesOf, type PlannedStep } from "./proof-lines.ts";

/** How a step stands. */
export interface StepStanding {
  readonly state: StateName;
  readonly word: string;
  /** How much of it is entered. */
  readonly entered?: string;
}

export interface Entered {
  readonly form: CommissioningForm;
  /** By the key of the result. */
  readonly judgements: ReadonlyMap<string, Judgement | null>;
  /** What is wrong, by field. */
  readonly wrong: FieldFaults;
}

const OPEN = { state: "none", word: "Open" } as const;
const DONE = { state: "proven", word: "Done" } as const;
const TO_PUT_RIGHT = { state: "unsure", word: "To be put right" } as const;

/** That everything is entered does not say that it passes: what does not is said first. */
export function standingOf({ step, lines }: PlannedStep, { form, judgements, wrong }: Entered): StepStanding {
  if (step.leftOut !== null) return { state: "none", word: "Left out" };
  const of = lines.map((line) =>
    [...entriesOf(form, line), ...entriesForEveryPath(form, line)].filter(
      ({ reading, passed }) => reading.trim() !== "" || passed !== "",
    ),
  );
  const all = of.flat();
  const entered = `${of.filter((entries) => entries.length > 0).length} of ${lines.length} entered`;
  const failed = all.filter(
    ({ key, passed }) => passed === "no" || judgements.get(key)?.verdict === "fails",
  ).length;
  if (failed > 0)
    return { state: "fault", word: failed === 1 ? "One does not pass" : `${failed} do not pass`, entered };
  if (all.some(({ key }) => isWrong(wrong, `result:${key}`))) return { ...TO_PUT_RIGHT, entered };
  const decided = ({ key, passed }: ResultEntry): boolean =>
    passed === "yes" || judgements.get(key)?.verdict === "passes";
  const done = of.every((entries) => entries.length > 0 && entries.every(decided));
  return { ...(done ? DONE : OPEN), entered };
}

/** A drill is done when somebody has said that the path is proved by it. */
export function standingOfDrill({ path, proved }: DrillEntry, wrong: FieldFaults): StepStanding {
  if (proved === "no") return { state: "fault", word: "Not proved" };
  if (isWrong(wrong, `drill:${path}`)) return TO_PUT_RIGHT;
  return proved === "yes" ? DONE : OPEN;
}

const isWrong = (wrong: FieldFaults, of: string): boolean =>
  [...wrong.keys()].some((at) => at.startsWith(`${of}.`));
