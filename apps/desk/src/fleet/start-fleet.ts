import type { SunspecDevice } from "@earthbell/model";
import type { Clock } from "../clock.ts";
import { ModbusServer } from "./modbus-server.ts";
import { LAYOUTS, portsOf } from "./register-map.ts";
import { drawScenario, type FleetFault, type FleetShares, type Scenario } from "./scenario.ts";
import { SimulatedDevice } from "./simulated-device.ts";
import type { FleetPlace } from "./weather.ts";

/** An inverter of a site that the rehearsal plays. */
export interface FleetSite extends FleetPlace {
  readonly site: string;
  /** Id of the inverter in the site. */
  readonly inverter: string;
  readonly arrays: readonly string[];
  /** Below this its insulation check reports an earth fault [Ω]. */
  readonly thresholdOhms: number;
}

export interface FleetOptions {
  readonly sites: readonly FleetSite[];
  /** Devices of one gateway, 1 to 247. */
  readonly devicesPerGateway: number;
  readonly seed: number;
  readonly shares: FleetShares;
  readonly clock: Pick<Clock, "now">;
  /** Address to listen at; loopback when left out. */
  readonly host?: string;
  /** Port of the first gateway, the others follow; chosen by the system when left out. */
  readonly firstPort?: number;
}

/** A gateway of the fleet, as the listener's settings describe one. */
export interface FleetGateway {
  readonly id: string;
  readonly host: string;
  readonly port: number;
  readonly devices: readonly SunspecDevice[];
}

export interface Fleet {
  readonly gateways: readonly FleetGateway[];
  /** What was drawn for every device, in the order of the sites. */
  readonly scenarios: readonly {
    readonly site: string;
    readonly inverter: string;
    readonly scenario: Scenario;
  }[];
  /** Puts a fault on an inverter's array, or takes it away; false where no such inverter plays. */
  fault(site: string, inverter: string, fault: FleetFault | null): boolean;
  /** Makes a device answer nothing, or answer again. */
  silence(site: string, inverter: string, silent: boolean): boolean;
  /** Puts a new device, with another serial number, in the place of one. */
  replace(site: string, inverter: string, serial: string): boolean;
  /** Breaks the connections of a gateway off. */
  reset(gateway: string): boolean;
  stop(): Promise<void>;
}

const BASES = [40_000, 0, 50_000];

/**
 * Starts simulated SunSpec devices that answer over real Modbus TCP: with the sun of their place, dew on some mornings, and the
 * faults, silences and lies that the seed draws. The same options and the same instants give the same answers.
 */
export async function startFleet(options: FleetOptions): Promise<Fleet> {
  const { sites, devicesPerGateway, clock, host = "127.0.0.1", firstPort } = options;
  const startAt = clock.now();
  const players = sites.map((site, index) => playerOf(options, site, index, startAt));
  const byInverter = new Map(
    players.map((player) => [JSON.stringify([player.site, player.inverter]), player]),
  );
  const gateways: FleetGateway[] = [];
  const servers = new Map<string, ModbusServer>();
  for (let first = 0; first < players.length; first += devicesPerGateway) {
    const units = players.slice(first, first + devicesPerGateway);
    const server = new ModbusServer((unit, address, count) =>
      units[unit - 1]?.simulated.answer(address, count, clock.now()),
    );
    const id = `rehearsal-${String(gateways.length + 1)}`;
    const port = await server.listen(host, firstPort === undefined ? 0 : firstPort + gateways.length);
    servers.set(id, server);
    gateways.push({ id, host, port, devices: units.map(({ device }, at) => ({ ...device, unit: at + 1 })) });
  }
  const steer = (site: string, inverter: string, move: (device: SimulatedDevice) => void): boolean => {
    const player = byInverter.get(JSON.stringify([site, inverter]));
    if (player !== undefined) move(player.simulated);
    return player !== undefined;
  };
  return {
    gateways,
    scenarios: players.map(({ site, inverter, scenario }) => ({ site, inverter, scenario })),
    fault: (site, inverter, fault) =>
      steer(site, inverter, (device) => {
        device.setFault(fault);
      }),
    silence: (site, inverter, silent) =>
      steer(site, inverter, (device) => {
        device.setSilent(silent);
      }),
    replace: (site, inverter, serial) =>
      steer(site, inverter, (device) => {
        device.replace(serial);
      }),
    reset: (gateway) => {
      servers.get(gateway)?.reset();
      return servers.has(gateway);
    },
    stop: async () => {
      await Promise.all([...servers.values()].map((server) => server.close()));
    },
  };
}

interface Player {
  readonly site: string;
  readonly inverter: string;
  readonly device: Omit<SunspecDevice, "unit">;
  readonly scenario: Scenario;
  readonly simulated: SimulatedDevice;
}

function playerOf(options: FleetOptions, fleetSite: FleetSite, index: number, startAt: number): Player {
  const { site, inverter, arrays, thresholdOhms } = fleetSite;
  const layout = LAYOUTS[index % LAYOUTS.length]!;
  const scenario = drawScenario(options.seed, index, options.shares, startAt);
  const simulated = new SimulatedDevice({
    layout,
    base: BASES[index % BASES.length]!,
    serial: `R-${String(index + 1).padStart(5, "0")}`,
    scenario,
    place: fleetSite,
    thresholdOhms,
  });
  // Ports are dealt out to the arrays in turn.
  const ports = Object.fromEntries(
    Array.from({ length: arrays.length > 0 ? portsOf(layout) : 0 }, (_, at) => [
      String(at + 1),
      arrays[at % arrays.length]!,
    ]),
  );
  const mapped = Object.keys(ports).length > 0 ? { arrays, ports } : {};
  return { site, inverter, device: { id: inverter, site, ...mapped }, scenario, simulated };
}
