import { useSyncExternalStore } from "react";

/**
 * As in the style sheets: no margin beside the reading column, as on a tablet held upright; one column of fields, as on a phone;
 * little of a page on the screen at once, as on a phone upright or lying down.
 */
const NARROW = {
  margin: window.matchMedia("(max-width: 60rem)"),
  fields: window.matchMedia("(max-width: 44rem)"),
  screen: window.matchMedia("(max-width: 44rem), (max-height: 30rem)"),
};

/** Whether there is too little room for a margin, for fields beside each other, or for more than one thing on the screen. */
export function useNarrow(room: keyof typeof NARROW): boolean {
  const narrow = NARROW[room];
  return useSyncExternalStore(LISTEN[room], () => narrow.matches);
}

/** One a width that stays the same, or React would listen anew in every rendering. */
const LISTEN = {
  margin: listenTo(NARROW.margin),
  fields: listenTo(NARROW.fields),
  screen: listenTo(NARROW.screen),
};

function listenTo(narrow: MediaQueryList): (changed: () => void) => () => void {
  return (changed) => {
    narrow.addEventListener("change", changed);
    return () => {
      narrow.removeEventListener("change", changed);
    };
  };
}
