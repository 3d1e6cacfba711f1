import { instantText } from "../grounds.ts";
import type { Drill } from "./drill.ts";

/** What every drill message says, in this order, whatever the channel. */
export function drillWords(drill: Drill): { readonly subject: string; readonly text: string } {
  return {
    subject: `Drill, no fault: ${drill.site}, path ${drill.path}`,
    text: [
      `This is a drill. It reports no earth fault at ${drill.site}.`,
      `It rehearses path ${drill.path}, by which you would be told of one.`,
      `Acknowledge it by ${instantText(drill.answerByAt)}; there is nothing else to do.`,
      "If an alarm sounds or shows at the site meanwhile, or another message reports a fault, take that as real.",
    ].join("\n"),
  };
}
