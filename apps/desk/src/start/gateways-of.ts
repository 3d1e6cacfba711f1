import type { Site } from "@earthbell/engine";
import type { DeskSettings } from "@earthbell/model";
import type { SunspecGateway } from "../listen/sunspec/gateway-loop.ts";

const MINUTE = 60_000;
/** The port that the open standard's transport is registered for. */
const MODBUS_PORT = 502;
const DEFAULT_POLL_MIN = 1;
const DEFAULT_TIMEOUT_MIN = 5 / 60;

/**
 * The gateways of the settings, durations in milliseconds. A device speaks for all arrays of its inverter unless the settings
 * list them, so that a fault that it cannot place reaches every one.
 */
export function gatewaysOf(
  { gateways = [] }: DeskSettings,
  sites: readonly Pick<Site, "id" | "arrays">[],
): readonly SunspecGateway[] {
  const arraysOf = (site: string, inverter: string): readonly string[] =>
    (sites.find(({ id }) => id === site)?.arrays ?? [])
      .filter((array) => array.inverter === inverter)
      .map(({ id }) => id);
  return gateways.map(({ id, host, port, pollEvery, timeout, rest, devices }) => ({
    id,
    host,
    port: port ?? MODBUS_PORT,
    pollEveryMs: Math.round((pollEvery ?? DEFAULT_POLL_MIN) * MINUTE),
    timeoutMs: Math.round((timeout ?? DEFAULT_TIMEOUT_MIN) * MINUTE),
    restMs: Math.round((rest ?? 0) * MINUTE),
    devices: devices.map((device) => {
      const arrays = device.arrays ?? arraysOf(device.site, device.id);
      return arrays.length === 0 ? device : { ...device, arrays };
    }),
  }));
}
