import type { Identity, SunspecProblem } from "@earthbell/model";
import type { Clock } from "../../clock.ts";
import type { Log } from "../../log.ts";
import type { Accept, Listener, ListenerHealth } from "../accept.ts";
import type { DeviceHealth } from "./device-health.ts";
import { GatewayLoop, type SunspecGateway } from "./gateway-loop.ts";
import { HandOver } from "./hand-over.ts";
import { openModbusTcp } from "./modbus-tcp.ts";
import type { OpenLink } from "./register-link.ts";

export interface SunspecOptions {
  readonly gateways: readonly SunspecGateway[];
}

export interface SunspecParts {
  readonly accept: Accept;
  readonly clock: Clock;
  /** Uniform in [0, 1): spreads polls and retries. */
  readonly random: () => number;
  readonly log: Log;
  /** Another way to registers than Modbus TCP. */
  readonly open?: OpenLink;
}

/** One device as the listener knows it, for the desk's pages and metrics. Plain JSON. */
export interface DeviceHearing {
  readonly gateway: string;
  readonly site: string;
  readonly device: string;
  readonly unit: number;
  readonly hears: boolean;
  /** Epoch milliseconds; null where it was never heard. */
  readonly lastHeardAt: number | null;
  readonly failures: number;
  readonly fault: SunspecProblem | null;
  readonly problems: readonly SunspecProblem[];
  readonly identity: Identity | null;
}

export interface SunspecListener extends Listener {
  devices(): readonly DeviceHearing[];
}

const NAME = "sunspec";

/**
 * Polls SunSpec devices over Modbus TCP and hands what they say to the desk. It reads only: nothing in it can write to a device.
 *
 * Every gateway has a loop and a connection of its own, so that one that stalls delays no other.
 */
export function startSunspecListener({ gateways }: SunspecOptions, parts: SunspecParts): SunspecListener {
  const { accept, clock, random, log, open = openModbusTcp } = parts;
  const handOver = new HandOver({ accept, clock, random, log });
  const loops = gateways
    .filter(({ devices }) => devices.length > 0)
    .map((gateway) => {
      const tell: HandOver["put"] = (readings) => {
        handOver.put(readings);
      };
      return new GatewayLoop(gateway, { clock, random, log, open, source: NAME, tell });
    });
  return {
    name: NAME,
    health: () => healthOf(loops.flatMap(({ devices }) => devices)),
    devices: () => loops.flatMap(({ devices }) => devices.map(hearingOf)),
    stop: async () => {
      await Promise.all(loops.map((loop) => loop.stop()));
      await handOver.stop();
    },
  };
}

function hearingOf(health: DeviceHealth): DeviceHearing {
  const { place, hears, everHeard, lastHeardAt, failures, fault, problems, identity } = health;
  return {
    ...place,
    hears,
    lastHeardAt: everHeard ? lastHeardAt : null,
    failures,
    fault,
    problems,
    identity,
  };
}

const MOST_NAMED = 5;

function healthOf(devices: readonly DeviceHealth[]): ListenerHealth {
  const deaf = devices.filter(({ hears }) => !hears);
  const [known, unheard] = [devices.length, deaf.length];
  const state = unheard === 0 ? "hearing" : unheard < known ? "partly-deaf" : "deaf";
  return { name: NAME, state, text: healthText(known, deaf), known, unheard };
}

function healthText(known: number, deaf: readonly DeviceHealth[]): string {
  if (known === 0) return "No SunSpec device is in the settings.";
  if (deaf.length === 0) return `All ${String(known)} SunSpec devices are heard.`;
  const named = deaf.slice(0, MOST_NAMED).map(({ place, fault }) => {
    const why = fault === null ? "not asked yet" : fault.text;
    return `${place.device} of ${place.site} (${why})`;
  });
  const more = deaf.length > MOST_NAMED ? ` and ${String(deaf.length - MOST_NAMED)} more` : "";
  return `${String(deaf.length)} of ${String(known)} SunSpec devices are not heard: ${named.join("; ")}${more}.`;
}
