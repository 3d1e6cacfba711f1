import type { Command } from "../command.ts";
import { tellingStatuses } from "../commands/statuses.ts";
import { exitStatus } from "../exit-status.ts";
import { paragraph } from "../terminal/section.ts";
import { aborted } from "./aborted.ts";
import { withDesk } from "./service-fault.ts";
import { wholeNumber } from "./whole-number.ts";

const DEFAULTS = { devices: 100, perGateway: 25, port: 15_020, seed: 20_261_125 };
const SHARES = { faults: 0.05, dropouts: 0.02, liars: 0.01 };

export const fleet: Command = {
  name: "fleet",
  summary: "simulate SunSpec devices over Modbus TCP, to rehearse a desk without an array",
  operands: { shape: "", least: 0, most: 0, what: "" },
  options: [
    { name: "devices", value: "N", help: `how many, 1 to 20000; ${String(DEFAULTS.devices)} when left out` },
    {
      name: "per-gateway",
      value: "N",
      help: `devices of one gateway, 1 to 247; ${String(DEFAULTS.perGateway)} when left out`,
    },
    {
      name: "port",
      value: "PORT",
      help: `port of the first gateway, the others follow; ${String(DEFAULTS.port)} when left out`,
    },
    { name: "seed", value: "N", help: "draws faults, silences and lies; the same seed draws the same" },
  ],
  description: [
    "Invented inverters on invented sites: they wake with the sun of their place, some mornings are wet, a few have faults, fall silent, or send what no device should. They are reached from this machine only.",
    "The gateways are printed as they stand in desk.yaml, so that they can be copied there.",
  ],
  example: {
    line: "earthbell fleet --devices 50",
    shows: "Two gateways with 25 devices each, until interrupted.",
  },
  statuses: tellingStatuses,
  run: async (call) => {
    const asked = (option: string, least: number, most: number) =>
      wholeNumber(call, { option, least, most, command: "fleet" });
    const devices = await asked("devices", 1, 20_000);
    const perGateway = await asked("per-gateway", 1, 247);
    const port = await asked("port", 1, 65_000);
    const seed = await asked("seed", 0, 999_999_999);
    if (devices === null || perGateway === null || port === null || seed === null)
      return exitStatus.wrongInput;
    return withDesk(call, async ({ startFleet, inventedSites, machineClock }) => {
      const stopped = call.world.stopSignal();
      const running = await startFleet({
        sites: inventedSites(devices ?? DEFAULTS.devices),
        devicesPerGateway: perGateway ?? DEFAULTS.perGateway,
        firstPort: port ?? DEFAULTS.port,
        seed: seed ?? DEFAULTS.seed,
        shares: SHARES,
        clock: machineClock,
      });
      await call.print(["gateways:", ...running.gateways.flatMap(gatewayLines)]);
      await call.complain(paragraph("The fleet answers until it is interrupted.", call.page));
      await aborted(stopped);
      await running.stop();
      return exitStatus.made;
    });
  },
};

interface Gateway {
  readonly id: string;
  readonly host: string;
  readonly port: number;
  readonly devices: readonly {
    readonly id: string;
    readonly unit: number;
    readonly site: string;
    readonly arrays?: readonly string[];
  }[];
}

function gatewayLines({ id, host, port, devices }: Gateway): readonly string[] {
  return [
    `  - id: ${id}`,
    `    host: ${host}`,
    `    port: ${String(port)}`,
    "    devices:",
    ...devices.map(
      ({ id: device, unit, site, arrays = [] }) =>
        `      - {id: ${device}, unit: ${String(unit)}, site: ${site}, arrays: [${arrays.join(", ")}]}`,
    ),
  ];
}
