import { useEffect } from "react";
import type { HappeningKind } from "./live.ts";
import type { SiteLine } from "./records.ts";
import { useAnswer } from "./use-answer.ts";

const ASK_AGAIN_MS = 10_000;

/** Every site that the reader may see. While the desk still judges some of them it is asked again. */
export function useSites(changedBy: readonly HappeningKind[]) {
  const answer = useAnswer<readonly SiteLine[]>("/api/sites", changedBy);
  const { value, again } = answer;
  const waiting = value?.some(({ standing }) => standing === null) === true;
  useEffect(() => {
    if (!waiting) return;
    const timer = setInterval(again, ASK_AGAIN_MS);
    return () => {
      clearInterval(timer);
    };
  }, [waiting, again]);
  return answer;
}
