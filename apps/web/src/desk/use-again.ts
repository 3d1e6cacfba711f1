import { useEffect } from "react";
import { ASK_AGAIN_MS } from "./ask-desk.ts";

/** Asks again every ten seconds for as long as the desk is still at work on the answer, or could not give one. */
export function useAgain(again: () => void, waiting: boolean): void {
  useEffect(() => {
    if (!waiting) return undefined;
    const timer = setInterval(again, ASK_AGAIN_MS);
    return () => {
      clearInterval(timer);
    };
  }, [waiting, again]);
}
