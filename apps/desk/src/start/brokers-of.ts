import type { DeskSettings } from "@earthbell/model";
import { fileBeside, type Secrets } from "../folder/secrets.ts";
import type { BrokerOptions } from "../mqtt/broker.ts";

/** A broker of the settings with its secrets read. */
export interface SettledBroker {
  readonly id: string;
  readonly broker: BrokerOptions;
  readonly listen: boolean;
  readonly share?: string;
  readonly prefix?: string;
}

/** @throws FolderFault DESK_SECRET_MISSING | DESK_FOLDER_UNUSABLE */
export function brokersOf(
  { brokers = [] }: DeskSettings,
  folder: string,
  secrets: Secrets,
): readonly SettledBroker[] {
  return brokers.map(({ id, url, user, password, tls, listen, share, prefix }) => {
    const pem = (file: string): string => fileBeside(folder, file);
    const login =
      user === undefined || password === undefined ? {} : { login: { user, password: secrets(password) } };
    const identity =
      tls?.certificate === undefined || tls.key === undefined
        ? {}
        : { identity: { cert: pem(tls.certificate), key: pem(tls.key) } };
    return {
      id,
      broker: { url, ...login, ...(tls?.ca === undefined ? {} : { ca: pem(tls.ca) }), ...identity },
      listen: listen ?? true,
      ...(share === undefined ? {} : { share }),
      ...(prefix === undefined ? {} : { prefix }),
    };
  });
}
