import { alarmMessage } from "./alarm-message.ts";
import { shortCaution } from "./cautions.ts";
import { drillMessage } from "./drill-message.ts";
import { noticeMessage } from "./notice-message.ts";
import type { Occasion, Words, Written } from "./occasion.ts";
import { oneLine } from "./one-line.ts";
import { type Part, textOfParts } from "./part.ts";
import { stormMessage } from "./storm-message.ts";
import { uncleanStopMessage } from "./unclean-stop-message.ts";

/** Longest subject, in characters. */
const SUBJECT_LENGTH = 160;

/**
 * What a message says: a pure function of its occasion. An owner reads plain words and somebody of the trade the terms;
 * either reads the cautions before anything that could be acted on, and they are never shortened. Names and addresses from
 * files come out as one line each.
 */
export const wordsFor: Words = (occasion): Written => {
  const { subject, parts } = message(occasion);
  const heading = oneLine(subject, SUBJECT_LENGTH);
  const text = occasion.channel === "sms" ? shortText(occasion, heading, parts[0]!) : textOfParts(parts);
  return { subject: heading, text };
};

function message(occasion: Occasion): { readonly subject: string; readonly parts: readonly Part[] } {
  switch (occasion.about) {
    case "alarms":
      return alarmMessage(occasion);
    case "drill":
      return drillMessage(occasion);
    case "storm":
      return stormMessage(occasion);
    case "notice":
      return noticeMessage(occasion);
    case "unclean-stop":
      return uncleanStopMessage(occasion);
  }
}

/** A text message: what it is, the one caution that must not be missed, whom to call, where to answer. A drill says all it has to. */
function shortText(occasion: Occasion, subject: string, opening: Part): string {
  const { site, acknowledgeUrl } = occasion;
  const answer = acknowledgeUrl === undefined ? [] : [`Acknowledge: ${acknowledgeUrl}`];
  if (occasion.about === "drill") return [...(opening.lines ?? []), ...answer].join("\n");
  const call = site.contact === undefined ? [] : [`Call ${oneLine(site.contact, 120)}`];
  return [subject, shortCaution(occasion), ...call, ...answer].join("\n");
}
