import type { DeskSettings } from "@earthbell/model";
import { fileBeside, type Secrets } from "../folder/secrets.ts";
import type { MqttListenerOptions } from "../listen/mqtt/mqtt-listener.ts";
import type { BrokerOptions } from "../mqtt/broker.ts";

/** A broker of the settings with its secrets read. */
export interface SettledBroker {
  readonly id: string;
  readonly broker: BrokerOptions;
  /** The desk's name there; sessions belong to it, so that it stays the same and no two desks share one. */
  readonly clientId: string;
  readonly listen: boolean;
  readonly session: Pick<MqttListenerOptions, "share" | "prefix" | "connections" | "sessionKeptS">;
}

/**
 * @param deskId  what this desk is called among desks
 * @throws FolderFault DESK_SECRET_MISSING | DESK_FOLDER_UNUSABLE
 */
export function brokersOf(
  { brokers = [] }: DeskSettings,
  {
    folder,
    secrets,
    deskId,
  }: { readonly folder: string; readonly secrets: Secrets; readonly deskId: string },
): readonly SettledBroker[] {
  return brokers.map(({ id, clientId, listen, share, prefix, connections, sessionKept, ...connection }) => ({
    id,
    broker: brokerOptions(connection, folder, secrets),
    clientId: clientId ?? `earthbell-${deskId}-${id.replace(/[^\w-]/gu, "_")}`,
    listen: listen ?? true,
    session: {
      ...(share === undefined ? {} : { share }),
      ...(prefix === undefined ? {} : { prefix }),
      ...(connections === undefined ? {} : { connections }),
      ...(sessionKept === undefined ? {} : { sessionKeptS: Math.round(sessionKept * 60) }),
    },
  }));
}

type Connection = Pick<
  NonNullable<DeskSettings["brokers"]>[number],
  "url" | "user" | "password" | "allowPlainPassword" | "tls"
>;

function brokerOptions(
  { url, user, password, allowPlainPassword, tls }: Connection,
  folder: string,
  secrets: Secrets,
): BrokerOptions {
  const pem = (file: string): string => fileBeside(folder, file);
  return {
    url,
    ...(user === undefined || password === undefined ? {} : { login: { user, password: secrets(password) } }),
    ...(allowPlainPassword === undefined ? {} : { allowPlainPassword }),
    ...(tls?.ca === undefined ? {} : { ca: pem(tls.ca) }),
    ...(tls?.certificate === undefined || tls.key === undefined
      ? {}
      : { identity: { cert: pem(tls.certificate), key: pem(tls.key) } }),
  };
}
