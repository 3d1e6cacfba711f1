import { acknowledgePart } from "./answering.ts";
import { cautionPart, isOfTheTrade, ownerSteps, TRADE_STEPS } from "./cautions.ts";
import type { StormOccasion } from "./occasion.ts";
import { oneLine } from "./one-line.ts";
import type { Part } from "./part.ts";

/** Many messages in one: what they may have in common, then every site by name. */
export function stormMessage(occasion: StormOccasion): {
  readonly subject: string;
  readonly parts: readonly Part[];
} {
  const { planned, faults } = occasion;
  const heading = oneLine(planned.heading, 200);
  const opening = faults
    ? "Several earth-fault alarms have operated. Take each as real: a common cause is a guess until somebody has looked."
    : "Several paths or detectors want looking after. No earth fault is reported here.";
  const next = isOfTheTrade(occasion) ? TRADE_STEPS : ownerSteps(occasion);
  return {
    subject: `${faults ? "Alarms" : "Need looking after"}: ${heading}`,
    parts: [
      { lines: [opening] },
      cautionPart(occasion),
      faults ? next : {},
      {
        heading: `What was reported, ${planned.sites.length === 1 ? "1 site" : `${planned.sites.length} sites`}`,
        lines: [`${heading}.`],
        list: planned.lines.map((line) => oneLine(line, 200)),
      },
      {
        heading: "Why you get this",
        lines: [
          `More messages fell due to you at once than a person can read one by one; this one stands for ${planned.covers.length} of them, and nothing was left out.`,
        ],
      },
      acknowledgePart(occasion, [
        "Acknowledging says that you know of these and see to them, under your name. It repairs nothing, clears nothing and closes no case.",
      ]),
      {
        heading: "When you hear of it again",
        lines: ["As the path of each site says, until it is answered or has cleared."],
      },
    ],
  };
}
