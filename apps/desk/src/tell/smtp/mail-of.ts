import { createHash } from "node:crypto";
import type { Envelope } from "../channel.ts";
import { htmlOfText } from "../words/html-of-text.ts";
import { oneLine } from "../words/one-line.ts";

/** Who sends. */
export interface MailSender {
  /** Address of the sender; bounces go there. */
  readonly from: string;
  /** Shown beside the address. */
  readonly fromName?: string;
  /** Where answers go; absent: to the sender. */
  readonly replyTo?: string;
}

const ADDRESS = /^[^\s@<>(),;:"[\]\\\p{Cc}]{1,64}@[^\s@<>(),;:"[\]\\\p{Cc}]{1,255}$/u;

/** A single bare mail address: no list, no name, no comment. */
export function isMailAddress(text: string): boolean {
  return ADDRESS.test(text);
}

function id(domain: string, ...parts: readonly string[]): string {
  const digest = createHash("sha256").update(JSON.stringify(parts)).digest("hex").slice(0, 40);
  return `<${digest}@${domain}>`;
}

/**
 * The mail of an envelope. Its id comes from the key, so that a duplicate carries the same id; all mails of one matter of a
 * site refer to one root, so that they stand together in a mailbox. Date is when it was written, not when it was tried.
 * There is no way to unsubscribe: who is told is decided in the site's file.
 */
export function mailOf(envelope: Envelope, { from, fromName, replyTo }: MailSender) {
  const domain = from.slice(from.lastIndexOf("@") + 1);
  const root = id(domain, "matter", envelope.site, envelope.matter);
  const subject = oneLine(envelope.subject, 200);
  return {
    envelope: { from, to: [envelope.address] },
    from: { name: oneLine(fromName ?? "Earthbell"), address: from },
    to: { name: "", address: envelope.address },
    ...(replyTo === undefined ? {} : { replyTo }),
    subject,
    text: envelope.text,
    html: htmlOfText(subject, envelope.text, envelope.acknowledgeUrl),
    messageId: id(domain, "message", envelope.key),
    inReplyTo: root,
    references: root,
    date: new Date(envelope.writtenAt),
    // RFC 3834: no vacation message answers this.
    headers: { "Auto-Submitted": "auto-generated" },
    textEncoding: "quoted-printable" as const,
    disableFileAccess: true,
    disableUrlAccess: true,
  };
}
