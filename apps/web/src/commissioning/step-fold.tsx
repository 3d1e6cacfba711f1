import { type ReactNode, type RefObject, useEffect, useLayoutEffect, useRef } from "react";
import { idOfStep, useOpenSteps } from "./open-steps.ts";
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

/**
 * A step with its heading. Where it is narrow all of it folds away behind the heading and how it stands: its cautions never fold
 * without its fields.
 */
export function StepFold({ step: { name, title }, standing, next, children }: StepFoldProps) {
  const { folding, isOpen, fold, unfold, goTo } = useOpenSteps();
  const open = isOpen(name);
  const body = useFolded(!open, () => {
    unfold(name);
  });
  const bodyId = `body-${name}`;
  return (
    <section className={folding ? "flow proof-step folding" : "flow proof-step"} data-step={name}>
      <h3 id={idOfStep(name)} tabIndex={-1}>
        {folding ? (
          <button
            type="button"
            aria-expanded={open}
            aria-controls={bodyId}
            onClick={() => {
              if (open) fold(name);
              else unfold(name);
            }}
          >
            <span>{title}</span>
            <span className="standing">
              <StandingWords standing={standing} />
            </span>
          </button>
        ) : (
          title
        )}
      </h3>
      <div id={bodyId} className="flow" ref={body}>
        {children}
        {folding && next !== null ? (
          <p>
            <button
              type="button"
              onClick={() => {
                goTo(next.name, name);
              }}
            >
              Fold this, on to {next.title}
            </button>
          </p>
        ) : null}
      </div>
    </section>
  );
}

/** Folded so that a search of the page still finds what is in it, and unfolds it. */
function useFolded(folded: boolean, found: () => void): RefObject<HTMLDivElement | null> {
  const body = useRef<HTMLDivElement>(null);
  const told = useRef(found);
  useLayoutEffect(() => {
    told.current = found;
    // React knows `hidden` as yes or no only.
    if (folded) body.current?.setAttribute("hidden", "until-found");
    else body.current?.removeAttribute("hidden");
  });
  useEffect(() => {
    const element = body.current;
    const tell = (): void => {
      told.current();
    };
    element?.addEventListener("beforematch", tell);
    return () => {
      element?.removeEventListener("beforematch", tell);
    };
  }, []);
  return body;
}
