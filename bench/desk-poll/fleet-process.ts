import { spawn } from "node:child_process";
import { createInterface } from "node:readline";
import { machineClock } from "../../apps/desk/src/clock.ts";
import { type FleetGateway, inventedSites, startFleet } from "../../apps/desk/src/fleet/index.ts";

/** The fleet in a process of its own, so that its work is not counted as the poller's. */
export interface FleetProcess {
  readonly gateways: readonly FleetGateway[];
  /** Puts a hard fault on the inverter of a site. */
  fault(site: string): void;
  stop(): void;
}

/** The other process's side: prints where its gateways are, then takes one site a line and puts a fault on it. */
export async function serveFleet(devices: number): Promise<void> {
  const shares = { faults: 0, dropouts: 0, liars: 0 };
  const sites = inventedSites(devices);
  const fleet = await startFleet({ sites, devicesPerGateway: 1, seed: 1, shares, clock: machineClock });
  console.log(JSON.stringify(fleet.gateways));
  for await (const site of createInterface(process.stdin))
    fleet.fault(site, "INV1", { kind: "hard", ohms: 5000, port: 1 });
  process.exit(0);
}

export async function startFleetProcess(devices: number): Promise<FleetProcess> {
  const child = spawn(process.execPath, [process.argv[1]!, "fleet", String(devices)], {
    stdio: ["pipe", "pipe", "inherit"],
  });
  const lines = createInterface(child.stdout)[Symbol.asyncIterator]();
  const first = await lines.next();
  if (first.done === true) throw new Error("The fleet ended before it began.");
  return {
    gateways: JSON.parse(first.value) as FleetGateway[],
    fault: (site) => child.stdin.write(`${site}\n`),
    stop: () => child.kill(),
  };
}
