import type { MessagePath } from "../assess/site.ts";
import type { PathContext } from "./context.ts";
import { figure, type Remark } from "./judgement.ts";
import { judgeLink } from "./link.ts";
import { reachableRecipients } from "./recipients.ts";

const COMMON_REPEAT_MINUTES = 60;

function repeatRemarks(path: MessagePath): readonly Remark[] {
  const remarks: Remark[] = [];
  if (path.repeatEvery === undefined) {
    const text = "No repeat is on record; judged as sent once. Repeat it hourly.";
    remarks.push({ code: "PATH_REPEAT_UNKNOWN", text });
  } else if (path.repeatEvery > COMMON_REPEAT_MINUTES) {
    const text = `Repeated every ${figure(path.repeatEvery)} min; hourly is common practice.`;
    remarks.push({ code: "PATH_REPEAT_SLOW", text });
  }
  if (path.until === undefined || path.until.length === 0) {
    const text = "What stops the message is not stated. Let it repeat until acknowledged or cleared.";
    remarks.push({ code: "PATH_STOP_UNKNOWN", text });
  } else if (!path.until.includes("acknowledged")) {
    const text =
      "Only clearing stops the message. A wet fault clears itself by late morning with nobody having answered.";
    remarks.push({ code: "PATH_STOP_WITHOUT_PERSON", text });
  }
  return remarks;
}

/** A message over the network: who it reaches, how often it is repeated, what stops it, and the link under it. */
export function judgeMessage(path: MessagePath, context: PathContext): readonly Remark[] {
  return [...reachableRecipients(path, context).remarks, ...repeatRemarks(path), ...judgeLink(path, context)];
}
