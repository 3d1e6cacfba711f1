import { useOpenFolds } from "../page/open-folds.ts";
import type { StepName } from "./step-fold.tsx";
import { StandingWords } from "./standing-words.tsx";
import type { StepStanding } from "./step-standing.ts";

interface StepListProps {
  readonly of: string;
  readonly steps: readonly { readonly name: StepName; readonly standing: StepStanding }[];
}

/** Every step with what is entered of it, each leading there. Where the steps fold, their headings are this list. */
export function StepList({ of, steps }: StepListProps) {
  const { folding, goTo } = useOpenFolds();
  if (folding) return null;
  return (
    <ol className="plain index" aria-label={`Steps of ${of}`}>
      {steps.map(({ name: { name, title }, standing }) => (
        <li key={name}>
          <button
            type="button"
            className="word"
            onClick={() => {
              goTo(name);
            }}
          >
            {title}
          </button>{" "}
          <StandingWords standing={standing} />
        </li>
      ))}
    </ol>
  );
}
