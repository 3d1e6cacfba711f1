import { type ReactNode, type RefObject, useEffect, useLayoutEffect, useRef } from "react";
import { idOfFold, useOpenFolds } from "./open-folds.ts";
import "./fold.css";

interface FoldProps {
  /** As it stands in the address: `limits`, `A1/P1/polarity`. */
  readonly name: string;
  readonly title: string;
  readonly level: 2 | 3;
  /** How it stands, in words; said where it folds. */
  readonly standing: ReactNode;
  /** The one after it, to which one can go on. */
  readonly next?: { readonly name: string; readonly title: string } | null;
  readonly children: ReactNode;
}

/**
 * A part of a page with its heading. Where it is narrow all of it folds away behind the heading and how it stands: nothing of it
 * folds without the rest.
 */
export function Fold({ name, title, level, standing, next = null, children }: FoldProps) {
  const { folding, isOpen, unfold, goTo } = useOpenFolds();
  const body = useFolded(!isOpen(name), () => {
    unfold(name);
  });
  const Heading = `h${level}` as const;
  const titleId = `title-${name}`;
  return (
    <section
      role="group"
      aria-labelledby={titleId}
      className={folding ? "flow folding" : "flow"}
      data-fold={name}
    >
      <Heading id={idOfFold(name)} tabIndex={-1}>
        {folding ? (
          <FoldButton name={name} standing={standing}>
            <span id={titleId}>{title}</span>
          </FoldButton>
        ) : (
          <span id={titleId}>{title}</span>
        )}
      </Heading>
      <div id={idOfBody(name)} className="flow fold-body" ref={body}>
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

const idOfBody = (name: string): string => `body-${name}`;

function FoldButton({ name, standing, children }: Pick<FoldProps, "name" | "standing" | "children">) {
  const { isOpen, fold, unfold } = useOpenFolds();
  const open = isOpen(name);
  return (
    <button
      type="button"
      aria-expanded={open}
      aria-controls={idOfBody(name)}
      onClick={() => {
        if (open) fold(name);
        else unfold(name);
      }}
    >
      {children}
      <span className="standing">{standing}</span>
    </button>
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
