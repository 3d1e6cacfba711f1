import { resolve } from "node:path";
import type { DeskSettings } from "@earthbell/model";
import type { Clock } from "../clock.ts";
import { fileBeside, type Secrets } from "../folder/secrets.ts";
import type { Log } from "../log.ts";
import type { Channel } from "../tell/channel.ts";
import { beaconChannel } from "../tell/mqtt/beacon-channel.ts";
import { type SmsBody, smsChannel } from "../tell/sms/sms-channel.ts";
import { smtpChannel } from "../tell/smtp/smtp-channel.ts";
import { trayChannel } from "../tell/tray/tray-channel.ts";
import { webhookChannel } from "../tell/webhook/webhook-channel.ts";
import type { SettledBroker } from "./brokers-of.ts";

/** What channels are made with. */
export interface ChannelParts {
  readonly settings: DeskSettings;
  readonly folder: string;
  readonly secrets: Secrets;
  readonly brokers: readonly SettledBroker[];
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
  const real = [emailOf(parts), webhookOf(parts), smsOf(parts, clock), beaconsOf(parts)];
  return [
    ...laid,
    ...real.filter((made) => made !== null).filter(({ kind }) => laid.every((one) => one.kind !== kind)),
  ];
}

function emailOf({ settings: { email }, folder, secrets, clock }: ChannelParts): Channel | null {
  if (email === undefined) return null;
  const { host, port, security, user, password, ca, from, timeout, ...sender } = email;
  const login =
    user === undefined || password === undefined ? {} : { login: { user, password: secrets(password) } };
  const common = {
    host,
    port,
    from,
    ...sender,
    ...certificates(folder, ca),
    ...attempt(timeout),
  };
  return security === "tls" || security === "starttls"
    ? smtpChannel({ ...common, security, ...login }, clock)
    : smtpChannel({ ...common, security }, clock);
}

function webhookOf({ settings: { webhook }, folder, secrets, clock }: ChannelParts): Channel | null {
  if (webhook === undefined) return null;
  const { keys, ca, timeout, ...outward } = webhook;
  const [first, ...more] = keys.map(({ id, secret }) => ({ id, secret: secrets(secret) }));
  const options = { ...outward, ...certificates(folder, ca), ...attempt(timeout) };
  return webhookChannel({ ...options, signingKeys: [first!, ...more] }, clock);
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
    timeout,
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
      ...attempt(timeout),
      method,
      url,
      headers: { ...headers, ...Object.fromEntries(secret) },
      body,
      reply,
    },
    clock,
  );
}

function beaconsOf({ settings: { beacons = [] }, brokers, clock, log }: ChannelParts): Channel | null {
  if (beacons.length === 0) return null;
  const told = brokers.map(({ clientId, ...one }) => ({ ...one, clientId: `${clientId}-tell` }));
  return beaconChannel({ beacons, brokers: told }, clock, log);
}

function attempt(minutes: number | undefined): { readonly attemptMs?: number } {
  return minutes === undefined ? {} : { attemptMs: Math.round(minutes * 60_000) };
}

/** The longest that one attempt of any channel may take by the settings [ms]; 0 where they say nothing. */
export function longestAttemptMs({ email, webhook, sms }: DeskSettings): number {
  return Math.max(0, ...[email, webhook, sms].map((one) => attempt(one?.timeout).attemptMs ?? 0));
}

/** Certificates to trust, from a file beside the settings. @throws FolderFault DESK_FOLDER_UNUSABLE */
function certificates(folder: string, file: string | undefined): { readonly ca?: string } {
  return file === undefined ? {} : { ca: fileBeside(folder, file) };
}
