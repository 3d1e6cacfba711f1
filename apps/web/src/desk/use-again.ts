import { useEffect } from "react";

const ASK_AGAIN_MS = 10_000;

/** Asks again every ten seconds for as long as the desk is still at work on the answer. */
export function useAgain(again: () => void, waiting: boolean): void {
  useEffect(() => {
    if (!waiting) return undefined;
    const timer = setInterval(again, ASK_AGAIN_MS);
    return () => {
      clearInterval(timer);
    };
  }, [waiting, again]);
}
