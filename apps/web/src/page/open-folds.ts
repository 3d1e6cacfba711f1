import { createContext, useContext, useEffect, useLayoutEffect } from "react";
import { flushSync } from "react-dom";
import { currentAddress, go, useAddress } from "../address/address.ts";
import { useNarrow } from "./use-narrow.ts";

/** Which parts of a page are unfolded. Where there is room for all of them, nothing is folded. */
interface OpenFolds {
  readonly folding: boolean;
  readonly isOpen: (part: string) => boolean;
  readonly unfold: (part: string) => void;
  readonly fold: (part: string) => void;
  /** Unfolds a part and goes to its heading; one that is done with may be folded at once. */
  readonly goTo: (part: string, from?: string) => void;
  /** Goes to an element of the page, whatever it is folded into. */
  readonly reach: (id: string) => void;
}

/** A page without such parts folds nothing. */
export const OpenFoldsShown = createContext<OpenFolds>({
  folding: false,
  isOpen: () => true,
  unfold: () => undefined,
  fold: () => undefined,
  goTo: () => undefined,
  reach: (id) => {
    focusOn(document.getElementById(id));
  },
});

export const useOpenFolds = (): OpenFolds => useContext(OpenFoldsShown);

/** What went wrong in a part is not left folded away. */
export function useUnfoldedBy(fault: object | null, part: string): void {
  const { folding, isOpen, unfold } = useOpenFolds();
  useEffect(() => {
    if (fault !== null && folding && !isOpen(part)) unfold(part);
  }, [fault]);
}

/** The id of the heading of a part. */
export const idOfFold = (part: string): string => `fold-${part}`;

/**
 * What is unfolded stands in the address, so that it is there again after a reload and a part can be sent to somebody.
 *
 * @param what  the name that the parts go by in the address: `step`
 */
export function useOpenFoldsByAddress(what: string): OpenFolds {
  const folding = useNarrow("margin");
  const opened = useAddress().query.getAll(what);
  useEffect(() => {
    const last = inAddress(what).at(-1);
    if (last !== undefined) focusOnFold(last);
  }, []);
  const unfold = (part: string, from?: string): void => {
    const others = folding ? inAddress(what).filter((one) => one !== part && one !== from) : [];
    putInAddress(what, [...others, part]);
  };
  useLayoutEffect(() => {
    // A tablet that is turned upright does not fold away what somebody is typing into.
    const at = document.activeElement;
    const part = folding ? foldOf(at) : undefined;
    if (part === undefined) return;
    putInAddress(what, [...inAddress(what).filter((one) => one !== part), part]);
    at?.scrollIntoView({ block: "center" });
  }, [folding]);
  return {
    folding,
    isOpen: (part) => !folding || opened.includes(part),
    unfold,
    fold: (part) => {
      putInAddress(
        what,
        inAddress(what).filter((one) => one !== part),
      );
    },
    goTo: (part, from) => {
      flushSync(() => {
        unfold(part, from);
      });
      focusOnFold(part);
    },
    reach: (id) => {
      const element = document.getElementById(id);
      const part = foldOf(element);
      if (part !== undefined)
        flushSync(() => {
          unfold(part);
        });
      focusOn(element);
    },
  };
}

/** The part in which an element lies. */
const foldOf = (element: Element | null): string | undefined =>
  element?.closest<HTMLElement>("[data-fold]")?.dataset["fold"];

const inAddress = (what: string): readonly string[] => currentAddress().query.getAll(what);

function putInAddress(what: string, opened: readonly string[]): void {
  const { parts, query } = currentAddress();
  query.delete(what);
  for (const part of opened) query.append(what, part);
  const path = `/${parts.map(encodeURIComponent).join("/")}`;
  go(query.size === 0 ? path : `${path}?${query.toString()}`, { replace: true });
}

/** The heading comes to the upper edge, so that what was unfolded below it is seen. */
function focusOnFold(part: string): void {
  const heading = document.getElementById(idOfFold(part));
  heading?.scrollIntoView({ block: "start" });
  heading?.focus({ preventScroll: true });
}

/** Nothing that is folded away can be focused. */
function focusOn(element: HTMLElement | null): void {
  for (let part = element?.closest("details"); part; part = part.parentElement?.closest("details"))
    part.open = true;
  element?.focus();
}
