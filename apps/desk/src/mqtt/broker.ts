import type { IClientOptions } from "mqtt";

/** A message broker (MQTT 5) and how the desk is known to it. */
export interface BrokerOptions {
  /** `mqtts://host:8883`, or `mqtt://host:1883` on the same machine. */
  readonly url: string;
  readonly login?: { readonly user: string; readonly password: string };
  /** Certificates (PEM) to trust instead of the system's. */
  readonly ca?: string;
  /** The desk's own certificate and key (PEM), where the broker asks for one. */
  readonly identity?: { readonly cert: string; readonly key: string };
  /** False takes any certificate. Absent: true. */
  readonly checkCertificate?: boolean;
  /** True lets a password go over a connection that can be read on its way. Absent: false. */
  readonly allowPlainPassword?: boolean;
}

/** Time between attempts to connect, and for one of them [ms]. */
const AGAIN_AFTER_MS = 3000;
const CONNECT_MS = 20_000;
/** The connection is tried out when nothing was heard for this long [s]. */
const KEEPALIVE_S = 60;

/**
 * What every connection to a broker has in common.
 *
 * @throws RangeError for an address that is no broker's, and for a password that could be read on its way
 */
export function connectionOptions(broker: BrokerOptions): IClientOptions {
  const { url, login, ca, identity, checkCertificate = true, allowPlainPassword = false } = broker;
  const parsed = URL.canParse(url) ? new URL(url) : null;
  if (parsed === null || !["mqtt:", "mqtts:"].includes(parsed.protocol))
    throw new RangeError("The broker's address begins with mqtts:// (or mqtt:// on the same machine).");
  if (parsed.username !== "" || parsed.password !== "")
    throw new RangeError("Give the broker's user and password beside its address, not in it.");
  const near = ["localhost", "127.0.0.1", "[::1]"].includes(parsed.hostname);
  if (login !== undefined && parsed.protocol === "mqtt:" && !near && !allowPlainPassword)
    throw new RangeError("A password is sent to a broker elsewhere only over mqtts://.");
  return {
    protocolVersion: 5,
    connectTimeout: CONNECT_MS,
    reconnectPeriod: AGAIN_AFTER_MS,
    reconnectOnConnackError: true,
    keepalive: KEEPALIVE_S,
    queueQoSZero: false,
    resubscribe: false,
    rejectUnauthorized: checkCertificate,
    ...(login === undefined ? {} : { username: login.user, password: login.password }),
    ...(ca === undefined ? {} : { ca }),
    ...(identity === undefined ? {} : identity),
  };
}
