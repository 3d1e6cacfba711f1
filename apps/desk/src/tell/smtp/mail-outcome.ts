import type { SendOutcome } from "../channel.ts";
import { GaveUp } from "../within.ts";
import { oneLine } from "../words/one-line.ts";

/** What the mail library says of an attempt that failed. */
interface MailError {
  readonly code?: string;
  readonly command?: string;
  readonly responseCode?: number;
  readonly response?: string;
  readonly message: string;
}

/** What a failed attempt comes to: is it this recipient who cannot be reached, or is it the way there? */
export function outcomeOfFailure(error: unknown): SendOutcome {
  if (error instanceof GaveUp) return later(error.message);
  const failed = error as MailError;
  const said = oneLine(failed.response ?? failed.message, 300);
  if (failed.code === "EAUTH" || failed.code === "ENOAUTH" || failed.command?.startsWith("AUTH") === true)
    return later(`The mail server did not take the desk's name and password; correct the settings: ${said}`);
  if (failed.code === "ETLS" || (failed.code === "ESOCKET" && /certificate|tls|ssl/iu.test(failed.message)))
    return later(`No protected connection to the mail server: ${said}`);
  const { responseCode } = failed;
  if (responseCode === undefined) return later(`No conversation with the mail server: ${said}`);
  if (responseCode < 500) return later(`The mail server asks to try later: ${said}`);
  if (failed.command !== "RCPT TO" && failed.command !== "DATA")
    return later(`The mail server refuses the desk, not the recipient; correct the settings: ${said}`);
  return isRecipientsOwn(responseCode, said)
    ? { outcome: "refused", reason: `The mail server refuses this address: ${said}` }
    : later(`The mail server refuses, and not because of the recipient; correct the settings: ${said}`);
}

function later(reason: string): SendOutcome {
  return { outcome: "later", reason };
}

/** Replies by which a server says that the mailbox, or its domain, does not take this message. */
const OF_THE_MAILBOX: readonly number[] = [521, 550, 551, 552, 553, 554, 556];

/**
 * A permanent reply about the address (class X.1), the mailbox (X.2) or the content (X.6), or policy other than about the
 * sender's own login (X.7): RFC 3463 and RFC 5248. Replies about the mail system, routing and protocol are not
 * the recipient's, nor is the refusal to relay. Without an enhanced code the reply code alone decides (RFC 5321, 4.2.3).
 */
function isRecipientsOwn(code: number, said: string): boolean {
  if (/\brelay/iu.test(said)) return false;
  const enhanced = /\b5\.(\d{1,3})\.(\d{1,3})\b/u.exec(said);
  if (enhanced === null) return OF_THE_MAILBOX.includes(code);
  const [, subject, detail] = enhanced.map(Number);
  if (subject === 7) return OF_THE_MAILBOX.includes(code) && ![0, 8, 9, 11].includes(detail!);
  // X.1.7 and X.1.8 are about the sender's address.
  return subject === 2 || subject === 6 || (subject === 1 && detail !== 7 && detail !== 8);
}
