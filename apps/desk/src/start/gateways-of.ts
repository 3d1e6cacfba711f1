import type { DeskSettings } from "@earthbell/model";
import type { SunspecGateway } from "../listen/sunspec/gateway-loop.ts";

const MINUTE = 60_000;
/** The port that the open standard's transport is registered for. */
const MODBUS_PORT = 502;
const DEFAULT_POLL_MIN = 1;
const DEFAULT_TIMEOUT_MIN = 5 / 60;

/** The gateways of the settings, durations in milliseconds. */
export function gatewaysOf({ gateways = [] }: DeskSettings): readonly SunspecGateway[] {
  return gateways.map(({ id, host, port, pollEvery, timeout, rest, devices }) => ({
    id,
    host,
    port: port ?? MODBUS_PORT,
    pollEveryMs: Math.round((pollEvery ?? DEFAULT_POLL_MIN) * MINUTE),
    timeoutMs: Math.round((timeout ?? DEFAULT_TIMEOUT_MIN) * MINUTE),
    restMs: Math.round((rest ?? 0) * MINUTE),
    devices,
  }));
}
