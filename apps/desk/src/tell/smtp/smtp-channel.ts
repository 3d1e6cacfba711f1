import { createTransport } from "nodemailer";
import type { Clock } from "../../clock.ts";
import type { Channel, Envelope, SendOutcome } from "../channel.ts";
import type { Hear } from "../conversation.ts";
import { within } from "../within.ts";
import { oneLine } from "../words/one-line.ts";
import { isMailAddress, mailOf, type MailSender } from "./mail-of.ts";
import { smtpLogger } from "./hear-smtp.ts";
import { outcomeOfFailure } from "./mail-outcome.ts";

/**
 * How the connection is protected. tls: from the first byte. starttls: by STARTTLS, or not at all. starttls-if-offered and
 * none are for a relay on the same machine: a password is never sent over either.
 */
type SmtpProtection =
  | {
      readonly security: "tls" | "starttls";
      readonly login?: { readonly user: string; readonly password: string };
    }
  | { readonly security: "starttls-if-offered" | "none" };

export type SmtpOptions = SmtpProtection &
  MailSender & {
    readonly host: string;
    readonly port: number;
    /** Certificates (PEM) to trust instead of the system's; absent: the system's. */
    readonly ca?: string;
    /** Name in the server's certificate, where it is not the host. */
    readonly serverName?: string;
    /** False takes any certificate. Absent: true. */
    readonly checkCertificate?: boolean;
    /** Name that the desk gives itself in EHLO; absent: the machine's. */
    readonly ownName?: string;
    /** Absent: 3. */
    readonly connections?: number;
    /** Time for one attempt from queue to reply [ms]; absent: 90 s. */
    readonly attemptMs?: number;
  };

/** Time for the connection, and for each silence in the conversation. */
const CONNECT_MS = 20_000;
const SILENCE_MS = 60_000;

/** Mail by SMTP (RFC 5321), each recipient a message of its own. Whether a mail bounces after it was handed over is not seen here. */
export function smtpChannel(options: SmtpOptions, clock: Clock): Channel {
  const transport = createTransport(poolOptions(options));
  const { attemptMs = 90_000 } = options;
  // The pool reports broken idle connections here; each message reports its own failure.
  transport.on("error", () => undefined);
  return {
    kind: "email",
    async send(envelope: Envelope, signal: AbortSignal, hear?: Hear): Promise<SendOutcome> {
      if (!isMailAddress(envelope.address))
        return { outcome: "refused", reason: `${oneLine(envelope.address)} is not one mail address.` };
      const mail = mailOf(envelope, options);
      const via = hear === undefined ? transport : aloud(options, hear);
      try {
        const info = await within(clock, attemptMs, signal, (given) =>
          via.sendMail({ ...mail, signal: given }),
        );
        return { outcome: "accepted", reply: oneLine(info.response, 300) };
      } catch (error) {
        return outcomeOfFailure(error);
      } finally {
        if (via !== transport) via.close();
      }
    },
    close() {
      transport.close();
      return Promise.resolve();
    },
  };
}

/** A connection for one message, whose conversation is heard. */
function aloud(options: SmtpOptions, hear: Hear) {
  const { login } = "login" in options ? options : { login: undefined };
  const heard = { maxConnections: 1, debug: true, logger: smtpLogger(hear, login) };
  const transport = createTransport({ ...poolOptions(options), ...heard });
  transport.on("error", () => undefined);
  return transport;
}

function poolOptions(options: SmtpOptions) {
  const { security, host, port, ca, serverName, ownName, checkCertificate = true, connections = 3 } = options;
  const login = security === "tls" || security === "starttls" ? options.login : undefined;
  return {
    pool: true as const,
    host,
    port,
    secure: security === "tls",
    requireTLS: security === "starttls",
    ignoreTLS: security === "none",
    tls: {
      minVersion: "TLSv1.2" as const,
      rejectUnauthorized: checkCertificate,
      ...(ca === undefined ? {} : { ca }),
      ...(serverName === undefined ? {} : { servername: serverName }),
    },
    ...(login === undefined ? {} : { auth: { user: login.user, pass: login.password } }),
    ...(ownName === undefined ? {} : { name: ownName }),
    maxConnections: connections,
    // The outbox decides what is tried again: a message requeued here could go out twice unrecorded.
    maxRequeues: 0,
    connectionTimeout: CONNECT_MS,
    greetingTimeout: CONNECT_MS,
    dnsTimeout: CONNECT_MS,
    socketTimeout: SILENCE_MS,
    logger: false,
  };
}
