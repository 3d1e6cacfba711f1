import { siteName } from "./alarm-facts.ts";
import { acknowledgePart } from "./answering.ts";
import { instantWords } from "./instant-words.ts";
import type { NoticeOccasion } from "./occasion.ts";
import { oneLine } from "./one-line.ts";
import type { Part } from "./part.ts";

interface NoticeWords {
  readonly subject: string;
  readonly opening: string;
  readonly next: string;
}

function wordsOf(occasion: NoticeOccasion): NoticeWords {
  const name = siteName(occasion);
  switch (occasion.notice) {
    case "nobody-to-tell":
      return {
        subject: `A fault at ${name} would reach nobody`,
        opening: `Nobody who can be reached would be told of a fault at ${name}. No fault is reported here.`,
        next: "Name somebody on the path, or correct the addresses of those who are named.",
      };
    case "drill-missed":
      return {
        subject: `Drill missed: ${name}`,
        opening: `A drill at ${name} was not answered by everybody in time. No fault is reported here.`,
        next: "Ask those who did not answer whether the message reached them, correct what did not work, and repeat the drill.",
      };
    case "clock-went-back":
      return {
        subject: `Clock set back: ${name}`,
        opening:
          "The clock of the machine that the desk runs on was set back. Messages may come twice rather than not at all.",
        next: "Find out why, and have the clock set by a time service.",
      };
  }
}

/** What the desk has to say of itself to those who keep it; nothing in it is done at an array. */
export function noticeMessage(occasion: NoticeOccasion): {
  readonly subject: string;
  readonly parts: readonly Part[];
} {
  const { subject, opening, next } = wordsOf(occasion);
  return {
    subject,
    parts: [
      { lines: [opening] },
      {
        heading: "What was seen",
        lines: [`${oneLine(occasion.text, 400)} Seen ${instantWords(occasion.at, occasion.site.zone)}.`],
      },
      { heading: "Next", lines: [next] },
      acknowledgePart(occasion, ["Acknowledging says that you know of this. It changes nothing else."]),
      {
        heading: "Why you get this",
        lines: ["You are named as somebody who keeps this desk or one of its paths."],
      },
    ],
  };
}
