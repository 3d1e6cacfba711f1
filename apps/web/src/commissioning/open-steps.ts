import { createContext, useContext, useEffect, useLayoutEffect } from "react";
import { flushSync } from "react-dom";
import { currentAddress, go, useAddress } from "../address/address.ts";
import { useNarrow } from "../page/use-narrow.ts";

/** Which steps of a form are unfolded. Where there is room for all of them, nothing is folded. */
interface OpenSteps {
  readonly folding: boolean;
  readonly isOpen: (step: string) => boolean;
  readonly unfold: (step: string) => void;
  readonly fold: (step: string) => void;
  /** Unfolds a step and goes to its heading; one that is done with may be folded at once. */
  readonly goTo: (step: string, from?: string) => void;
  /** Goes to an element of the form, whatever it is folded into. */
  readonly reach: (id: string) => void;
}

/** A form without steps folds nothing. */
export const OpenStepsShown = createContext<OpenSteps>({
  folding: false,
  isOpen: () => true,
  unfold: () => undefined,
  fold: () => undefined,
  goTo: () => undefined,
  reach: (id) => {
    focusOn(document.getElementById(id));
  },
});

export const useOpenSteps = (): OpenSteps => useContext(OpenStepsShown);

const NAME = "step";

/** The id of the heading of a step. */
export const idOfStep = (step: string): string => `step-${step}`;

/** What is unfolded stands in the address, so that it is there again after a reload and a step can be sent to somebody. */
export function useOpenStepsByAddress(): OpenSteps {
  const folding = useNarrow("margin");
  const opened = useAddress().query.getAll(NAME);
  useEffect(() => {
    const last = namedSteps().at(-1);
    if (last !== undefined) focusOnStep(last);
  }, []);
  const unfold = (step: string, from?: string): void => {
    const others = folding ? namedSteps().filter((one) => one !== step && one !== from) : [];
    nameSteps([...others, step]);
  };
  useLayoutEffect(() => {
    // A tablet that is turned upright does not fold away what somebody is typing into.
    const at = document.activeElement;
    const step = folding ? stepOf(at) : undefined;
    if (step === undefined) return;
    nameSteps([...namedSteps().filter((one) => one !== step), step]);
    at?.scrollIntoView({ block: "center" });
  }, [folding]);
  return {
    folding,
    isOpen: (step) => !folding || opened.includes(step),
    unfold,
    fold: (step) => {
      nameSteps(namedSteps().filter((one) => one !== step));
    },
    goTo: (step, from) => {
      flushSync(() => {
        unfold(step, from);
      });
      focusOnStep(step);
    },
    reach: (id) => {
      const element = document.getElementById(id);
      const step = stepOf(element);
      if (step !== undefined)
        flushSync(() => {
          unfold(step);
        });
      focusOn(element);
    },
  };
}

/** The step in which an element lies. */
const stepOf = (element: Element | null): string | undefined =>
  element?.closest<HTMLElement>("[data-step]")?.dataset["step"];

const namedSteps = (): readonly string[] => currentAddress().query.getAll(NAME);

function nameSteps(steps: readonly string[]): void {
  const { parts, query } = currentAddress();
  query.delete(NAME);
  for (const step of steps) query.append(NAME, step);
  const path = `/${parts.map(encodeURIComponent).join("/")}`;
  go(query.size === 0 ? path : `${path}?${query.toString()}`, { replace: true });
}

/** The heading comes to the upper edge, so that what was unfolded below it is seen. */
function focusOnStep(step: string): void {
  const heading = document.getElementById(idOfStep(step));
  heading?.scrollIntoView({ block: "start" });
  heading?.focus({ preventScroll: true });
}

/** Nothing that is folded away can be focused. */
function focusOn(element: HTMLElement | null): void {
  for (let part = element?.closest("details"); part; part = part.parentElement?.closest("details"))
    part.open = true;
  element?.focus();
}
