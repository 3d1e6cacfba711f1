import { useEffect, useRef, useState } from "react";
import { flushSync } from "react-dom";

/** Rows beyond the edge that are set as well, so that a fast scroll shows no gap. */
const BEYOND = 12;

interface Window {
  readonly place: React.RefObject<HTMLDivElement | null>;
  readonly from: number;
  readonly to: number;
}

/** Which of many rows of equal height stand in a scrolling place, so that only those are set. */
export function useWindow(count: number, rowHeight: number): Window {
  const place = useRef<HTMLDivElement>(null);
  const [seen, setSeen] = useState({ top: 0, height: 800 });
  useEffect(() => {
    const box = place.current;
    if (box === null) return;
    // Before the browser paints: a fast scroll would otherwise show a place without rows.
    const look = (): void => {
      flushSync(() => {
        setSeen({ top: box.scrollTop, height: box.clientHeight });
      });
    };
    const watcher = new ResizeObserver(look);
    watcher.observe(box);
    box.addEventListener("scroll", look, { passive: true });
    return () => {
      watcher.disconnect();
      box.removeEventListener("scroll", look);
    };
  }, [count > 0]);
  const from = Math.max(0, Math.floor(seen.top / rowHeight) - BEYOND);
  const to = Math.min(count, Math.ceil((seen.top + seen.height) / rowHeight) + BEYOND);
  return { place, from: Math.min(from, to), to };
}
