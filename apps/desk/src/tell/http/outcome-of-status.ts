import type { SendOutcome } from "../channel.ts";
import { GaveUp } from "../within.ts";
import { oneLine } from "../words/one-line.ts";
import { Unreachable } from "./outward.ts";

/** Replies of the class 4xx that ask to try again: timeout, too early, too many (RFC 9110, RFC 8470, RFC 6585). */
const AGAIN: readonly number[] = [408, 425, 429];

/** 2xx took it, other 4xx will never take it, everything else may take it later. A redirect is not followed. */
export function outcomeOfStatus(status: number): SendOutcome {
  if (status >= 200 && status < 300) return { outcome: "accepted", reply: `status ${status}` };
  if (status >= 400 && status < 500 && !AGAIN.includes(status))
    return { outcome: "refused", reason: `The other side answered with status ${status}.` };
  const redirect =
    status >= 300 && status < 400 ? " Redirects are not followed: give the address it leads to." : "";
  return { outcome: "later", reason: `The other side answered with status ${status}.${redirect}` };
}

/** No answer at all. */
export function outcomeOfNoAnswer(error: unknown): Exclude<SendOutcome, { outcome: "accepted" }> {
  if (error instanceof GaveUp) return { outcome: "later", reason: error.message };
  if (error instanceof Unreachable)
    return { outcome: "refused", reason: `The address cannot be used. ${error.message}` };
  const { code, message } = error as NodeJS.ErrnoException;
  return { outcome: "later", reason: `No answer: ${oneLine(code ?? message, 200)}.` };
}
