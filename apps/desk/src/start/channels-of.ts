import { resolve } from "node:path";
import type { DeskSettings } from "@earthbell/model";
import type { Clock } from "../clock.ts";
import { fileBeside, type Secrets } from "../folder/secrets.ts";
import type { Log } from "../log.ts";
import type { Channel } from "../tell/channel.ts";
import { type SmsBody, smsChannel } from "../tell/sms/sms-channel.ts";
import { smtpChannel } from "../tell/smtp/smtp-channel.ts";
import { trayChannel } from "../tell/tray/tray-channel.ts";
import { webhookChannel } from "../tell/webhook/webhook-channel.ts";

/** What channels are made with. */
export interface ChannelParts {
  readonly settings: DeskSettings;
  readonly folder: string;
  readonly secrets: Secrets;
  readonly clock: Clock;
  readonly log: Log;
}

/**
 * The ways that the settings set up, one of a kind. Secrets are read here, once.
 *
 * @throws FolderFault DESK_SECRET_MISSING; RangeError for a template that cannot be filled
 */
export function channelsOf(parts: ChannelParts): readonly Channel[] {
  const { settings, clock } = parts;
  const { tray } = settings;
  const laid = (tray?.instead ?? []).map((kind) =>
    trayChannel({
      folder: resolve(parts.folder, tray!.folder),
      kind,
      laid: ({ person, site, subject }, file) => {
        parts.log.info({ person, site, file }, `message laid into the tray: ${subject}`);
      },
    }),
  );
  const real = [emailOf(parts), webhookOf(parts), smsOf(parts, clock)].filter((one) => one !== null);
  return [...laid, ...real.filter(({ kind }) => laid.every((one) => one.kind !== kind))];
}

function emailOf({ settings: { email }, folder, secrets, clock }: ChannelParts): Channel | null {
  if (email === undefined) return null;
  const { host, port, security, user, password, ca, from, fromName, replyTo } = email;
  const login =
    user === undefined || password === undefined ? {} : { login: { user, password: secrets(password) } };
  const common = {
    host,
    port,
    from,
    ...(fromName === undefined ? {} : { fromName }),
    ...(replyTo === undefined ? {} : { replyTo }),
    ...certificates(folder, ca),
  };
  return security === "tls" || security === "starttls"
    ? smtpChannel({ ...common, security, ...login }, clock)
    : smtpChannel({ ...common, security }, clock);
}

function webhookOf({ settings: { webhook }, folder, secrets, clock }: ChannelParts): Channel | null {
  if (webhook === undefined) return null;
  const { keys, ca, ...outward } = webhook;
  const [first, ...more] = keys.map(({ id, secret }) => ({ id, secret: secrets(secret) }));
  return webhookChannel({ ...outward, ...certificates(folder, ca), signingKeys: [first!, ...more] }, clock);
}

function smsOf({ settings: { sms }, folder, secrets }: ChannelParts, clock: Clock): Channel | null {
  if (sms === undefined) return null;
  const {
    method,
    url,
    headers = {},
    secretHeaders = {},
    json,
    form,
    replyHolds,
    replyRefusesWith,
    ca,
    ...outward
  } = sms;
  const secret = Object.entries(secretHeaders).map(([name, source]) => [name, secrets(source)] as const);
  const body: SmsBody =
    json !== undefined
      ? { as: "json", value: JSON.parse(json) as never }
      : form !== undefined
        ? { as: "form", fields: form }
        : { as: "none" };
  const reply = {
    ...(replyHolds === undefined ? {} : { holds: replyHolds }),
    ...(replyRefusesWith === undefined ? {} : { refusesWith: replyRefusesWith }),
  };
  return smsChannel(
    {
      ...outward,
      ...certificates(folder, ca),
      method,
      url,
      headers: { ...headers, ...Object.fromEntries(secret) },
      body,
      reply,
    },
    clock,
  );
}

/** Certificates to trust, from a file beside the settings. @throws FolderFault DESK_FOLDER_UNUSABLE */
function certificates(folder: string, file: string | undefined): { readonly ca?: string } {
  return file === undefined ? {} : { ca: fileBeside(folder, file) };
}
