import type { ProofPlan } from "@earthbell/engine";
import type { Judgement } from "@earthbell/model";
import { useMemo } from "react";
import type { FileFault } from "../desk/ask-desk.ts";
import { useAnswer } from "../engine/use-answer.ts";
import type { CommissioningForm, ResultEntry } from "./commissioning-form.ts";
import { type FieldFaults, fieldFaults, isMissing } from "./field-faults.ts";
import { placeOf, typedForm } from "./typed-form.ts";

interface Asked {
  readonly site: string;
  readonly plan: ProofPlan;
  readonly form: CommissioningForm;
  /** What the desk found wrong when it was last asked, and of which text. */
  readonly told: Told;
}

export interface Told {
  readonly of: string;
  readonly faults: readonly FileFault[];
}

interface Judged {
  /** What each reading says, by the key of its result. */
  readonly judgements: ReadonlyMap<string, Judgement | null>;
  /** The file that the form makes; null while something in it is missing or wrong. */
  readonly text: string | null;
  /** It is of what is typed now. */
  readonly settled: boolean;
  /** The file with whatever is missing or wrong, to be kept elsewhere. */
  readonly draftText: string;
  /** Everything that is missing or wrong, by field. */
  readonly faults: FieldFaults;
  /** What is wrong, by field; what is merely missing is told in a list. */
  readonly wrong: FieldFaults;
}

/** What the engine and the reader of files say of a form as it stands. */
export function useJudged({ site, plan, form, told }: Asked): Judged {
  const figures = useMemo(() => figureLines(plan), [plan]);
  const { typed, names } = useMemo(() => typedForm(site, form, figures), [site, form, figures]);
  const { value, underWay } = useAnswer("judgeCommissioning", [plan, typed, names]);
  const judged = useMemo(() => {
    if (value === null)
      return { judgements: new Map(), text: null, draftText: "", faults: NONE, wrong: NONE } as const;
    const { text } = value;
    const more = told.of === text ? told.faults : [];
    const place = (field: string): string => placeOf(value.names, field);
    return {
      judgements: new Map(value.names.results.map((key, at) => [key, value.judgements[at] ?? null])),
      text: value.faults.length === 0 ? text : null,
      draftText: text,
      faults: fieldFaults([...value.faults, ...more], place),
      wrong: fieldFaults([...value.faults.filter((fault) => !isMissing(fault)), ...more], place),
    };
  }, [value, told]);
  return { ...judged, settled: !underWay };
}

const NONE: FieldFaults = new Map();

/** Which results are read off an instrument; the rest are seen, and a tick says enough. */
function figureLines(plan: ProofPlan): (entry: ResultEntry) => boolean {
  const figures = new Set(
    plan.proofs.flatMap(({ array, steps }) =>
      steps.flatMap(({ id, expected }) =>
        expected.flatMap(({ dimension }, at) =>
          dimension === undefined ? [] : [`${array}/${id}/${at + 1}`],
        ),
      ),
    ),
  );
  return ({ array, step, line }) => figures.has(`${array}/${step}/${line ?? 1}`);
}
