import { siteName } from "./alarm-facts.ts";
import { acknowledgePart } from "./answering.ts";
import { cautionPart } from "./cautions.ts";
import { instantWords, lengthWords } from "./instant-words.ts";
import type { UncleanStopOccasion } from "./occasion.ts";
import type { Part } from "./part.ts";

/** The desk tells of its own silence: for that time nobody would have been told of a fault. */
export function uncleanStopMessage(occasion: UncleanStopOccasion): {
  readonly subject: string;
  readonly parts: readonly Part[];
} {
  const { lastAtWorkAt, startedAt, site } = occasion;
  const name = siteName(occasion);
  const gap = lengthWords(startedAt - lastAtWorkAt);
  return {
    subject: `Not listening for ${gap}: ${name}`,
    parts: [
      {
        lines: [
          `The desk stopped without being shut down, and runs again. It could not listen for ${gap}: ${name}.`,
          "A fault of that time is told late, or was not heard at all.",
        ],
      },
      cautionPart(occasion),
      {
        heading: "What happened",
        list: [
          `Last known to be at work: ${instantWords(lastAtWorkAt, site.zone)}.`,
          `At work again: ${instantWords(startedAt, site.zone)}.`,
        ],
      },
      {
        heading: "Next",
        list: [
          "Look at the fault light of the inverter from where you can see it without touching anything, or ask somebody at the site to do so.",
          "Whoever runs the desk should find out why it stopped: power, disk, memory, an update.",
        ],
      },
      acknowledgePart(occasion, ["Acknowledging says that you know of the gap. It changes nothing else."]),
      {
        heading: "Why you get this",
        lines: [
          "You are told of faults at this site, so you are told when they could not have been heard. It is sent once.",
        ],
      },
    ],
  };
}
