import { useEffect, useState } from "react";
import { flushSync } from "react-dom";

/** Whether the page is being put on paper just now, where what lies beyond the edge of a scrolling place would be lost. */
export function usePrinting(): boolean {
  const [printing, setPrinting] = useState(false);
  useEffect(() => {
    // Before the browser lays the page out: it does not wait for anything that comes later.
    const now = (is: boolean) => () => {
      flushSync(() => {
        setPrinting(is);
      });
    };
    const begins = now(true);
    const ends = now(false);
    window.addEventListener("beforeprint", begins);
    window.addEventListener("afterprint", ends);
    return () => {
      window.removeEventListener("beforeprint", begins);
      window.removeEventListener("afterprint", ends);
    };
  }, []);
  return printing;
}
