import type { ReactNode } from "react";
import { Fold } from "../page/fold.tsx";
import { StandingWords } from "./standing-words.tsx";
import type { StepStanding } from "./step-standing.ts";

/** A step as it is found among the others. */
export interface StepName {
  /** `A1/P1/polarity`, as it stands in the address. */
  readonly name: string;
  readonly title: string;
}

interface StepFoldProps {
  readonly step: StepName;
  readonly standing: StepStanding;
  /** The one after it, to which one can go on. */
  readonly next: StepName | null;
  readonly children: ReactNode;
}

/** A step with its heading: its cautions never fold without its fields. */
export function StepFold({ step, standing, next, children }: StepFoldProps) {
  return (
    <Fold {...step} level={3} standing={<StandingWords standing={standing} />} next={next}>
      {children}
    </Fold>
  );
}
