import { useSyncExternalStore } from "react";

/** As in the style sheets: there is no room for a margin beside the reading column. */
const narrow = window.matchMedia("(max-width: 60rem)");

function listen(changed: () => void): () => void {
  narrow.addEventListener("change", changed);
  return () => {
    narrow.removeEventListener("change", changed);
  };
}

/** Whether the page has no margin, as on a phone and a tablet held upright. */
export function useNarrow(): boolean {
  return useSyncExternalStore(listen, () => narrow.matches);
}
