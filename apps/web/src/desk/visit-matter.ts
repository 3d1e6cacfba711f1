import { instantWords } from "./instant.ts";
import type { Matter } from "./matter.ts";
import type { VisitBrief } from "./records.ts";

/** In the words of Drift, so that both places say the same of an array. */
export function visitMatter(visit: VisitBrief, nameOf: (site: string) => string): Matter {
  const { site, array, why, by, below, sinkingSince } = visit;
  const watch =
    sinkingSince === null ? "" : ` The watch sees it sink as well, since ${instantWords(sinkingSince)}.`;
  return {
    key: `visit ${site} ${array}`,
    ...(below
      ? ({ state: "fault", word: "Below threshold" } as const)
      : ({ state: "must", word: "Drifting" } as const)),
    title: `${nameOf(site)}, array ${array}`,
    why: `${why}${watch}`,
    byWhen: by,
    to: `/register/${encodeURIComponent(site)}`,
  };
}
