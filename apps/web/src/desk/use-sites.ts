import type { HappeningKind } from "./live.ts";
import type { SiteLine } from "./records.ts";
import { siteLinePath } from "./questions.ts";
import { useAgain } from "./use-again.ts";
import { useAnswer } from "./use-answer.ts";

/** Every site that the reader may see. While the desk still judges some of them it is asked again. */
export function useSites(changedBy: readonly HappeningKind[]) {
  const answer = useAnswer<readonly SiteLine[]>("/api/sites", changedBy);
  const { value, again } = answer;
  useAgain(again, value?.some(({ standing }) => standing === null) === true);
  return answer;
}

/** One site alone; undefined until the desk has answered, and where it watches no such site. */
export function useSite(id: string | null, changedBy: readonly HappeningKind[]) {
  const { value, fault } = useAnswer<readonly SiteLine[]>(id === null ? null : siteLinePath(id), changedBy);
  return { line: value?.[0], fault };
}
