import type { MessagePath } from "../assess/site.ts";
import type { PathContext } from "./context.ts";
import { figure, type Remark } from "./judgement.ts";
import { judgeLink } from "./link.ts";
import { reachableRecipients } from "./recipients.ts";

const COMMON_REPEAT_MINUTES = 60;

function repeatRemarks(path: MessagePath): readonly Remark[] {
  const remarks: Remark[] = [];
  if (path.repeatEvery === undefined) {
    const text =
      "Whether the message is repeated is not stated, so it is judged as sent once, and a single message is easily passed over. Repeat it hourly and record that.";
    remarks.push({ code: "PATH_REPEAT_UNKNOWN", text });
  } else if (path.repeatEvery > COMMON_REPEAT_MINUTES) {
    const text = `The message is repeated every ${figure(path.repeatEvery)} min; hourly is common practice, because one message is easily passed over. Repeat it at least hourly.`;
    remarks.push({ code: "PATH_REPEAT_SLOW", text });
  }
  if (path.until === undefined || path.until.length === 0) {
    const text =
      "What stops the message is not stated; one that nothing stops is soon switched off for good. Let it repeat until somebody acknowledges it or the fault is cleared.";
    remarks.push({ code: "PATH_STOP_UNKNOWN", text });
  } else if (!path.until.includes("acknowledged")) {
    const text =
      "Only the clearing of the fault stops the message, and a wet fault clears itself by late morning with nobody having answered. Ask for an acknowledgement too, and keep the case open until a cause is found.";
    remarks.push({ code: "PATH_STOP_WITHOUT_PERSON", text });
  }
  return remarks;
}

/** A message over the network: who it reaches, how often it is repeated, what stops it, and the link under it. */
export function judgeMessage(path: MessagePath, context: PathContext): readonly Remark[] {
  return [...reachableRecipients(path, context).remarks, ...repeatRemarks(path), ...judgeLink(path, context)];
}
