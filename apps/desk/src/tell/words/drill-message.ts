import { drillWords } from "@earthbell/model";
import { siteName } from "./alarm-facts.ts";
import { acknowledgePart, referencePart } from "./answering.ts";
import { instantWords } from "./instant-words.ts";
import type { DrillOccasion } from "./occasion.ts";
import { oneLine } from "./one-line.ts";
import type { Part } from "./part.ts";

/** A drill says first that it is one, in the words that every channel uses. */
export function drillMessage(occasion: DrillOccasion): {
  readonly subject: string;
  readonly parts: readonly Part[];
} {
  const { drill, path, sequence, site } = occasion;
  const words = drillWords({ ...drill, site: siteName(occasion), path: oneLine(drill.path) });
  const by = drill.by === null ? "the schedule of drills" : oneLine(drill.by);
  return {
    subject: words.subject,
    parts: [
      { lines: words.text.split("\n") },
      acknowledgePart(occasion, [
        "Acknowledging says that this message reached you. It is your answer to this drill and to nothing else.",
      ]),
      {
        heading: "Why you get this",
        list: [
          `You are on path ${oneLine(path.id)} of this site. The drill was started by ${by} on ${instantWords(drill.startedAt, site.zone)}.`,
          `It is answered in time until ${instantWords(drill.answerByAt, site.zone)}, and repeated until you acknowledge or that time is over.`,
        ],
      },
      referencePart(
        occasion,
        `Site ${oneLine(site.id)}, drill ${oneLine(drill.id)}, path ${oneLine(path.id)}, message ${sequence}.`,
      ),
    ],
  };
}
