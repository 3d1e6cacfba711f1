import { cp, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Site } from "@earthbell/engine";
import type { DeskSettings } from "@earthbell/model";
import type { Clock } from "../clock.ts";
import { type Fleet, type FleetSite, startFleet } from "../fleet/index.ts";
import { CREAMERY_DAMAGE, demoDamage } from "../fleet/demo-damage.ts";
import type { RunningDesk } from "./run-desk.ts";
import { demoPast } from "./demo-past.ts";
import { type Served, serveFolder, type Surroundings } from "./serve-folder.ts";

/** A desk of the invented co-operative, with simulated devices behind real Modbus connections. */
export interface Demo {
  readonly desk: RunningDesk;
  readonly fleet: Fleet;
  /** Where messages are laid, since they go nowhere. */
  readonly tray: string;
}

const SEED = 20_261_125;
const DAY_MS = 86_400_000;
/** Local solar hour at which the demonstration begins: inverters are awake, and what was wet is still damp. */
const FIRST_HOUR = 8;
/** So that there is something to see: a connector of this site fails a little after the start. */
const FAILS = { ...CREAMERY_DAMAGE, inverter: "INV1", afterMs: 15_000 };

/**
 * Runs the demonstration in a folder of its own that goes when it stops.
 *
 * @param sites  the sites of the scenario, whose files lie in demoFolder
 */
export async function serveDemo(
  demoFolder: string,
  sites: readonly Site[],
  around: Surroundings,
): Promise<Demo> {
  const folder = await mkdtemp(join(tmpdir(), "earthbell-demo-"));
  const fleet = await startFleet({
    sites: sites.flatMap(fleetSitesOf),
    devicesPerGateway: 8,
    seed: SEED,
    shares: { faults: 0.15, dropouts: 0, liars: 0 },
    clock: dawnClock(around.clock, sites),
  });
  try {
    await cp(join(demoFolder, "sites"), join(folder, "sites"), { recursive: true });
    await cp(join(demoFolder, "rules"), join(folder, "rules"), { recursive: true });
    const demonstrated = demoDamage(sites, SEED);
    const served = await serveFolder(folder, { ...around, demonstrated }, demoSettings(fleet));
    const desk = soundly(served);
    const stopping = new AbortController();
    const remembering = remember(desk, sites, around, stopping.signal);
    const failing = failLater(fleet, around, stopping.signal);
    const stop = async (): Promise<void> => {
      stopping.abort();
      await Promise.all([failing, remembering]);
      await desk.stop();
      await fleet.stop();
      await rm(folder, { recursive: true, force: true });
    };
    return { desk: { ...desk, stop }, fleet, tray: join(folder, TRAY) };
  } catch (error) {
    await fleet.stop();
    await rm(folder, { recursive: true, force: true });
    throw error;
  }
}

const TRAY = "tray";

/** Left to whoever else asks something of the desk after each two months of an array, which take about as long. */
const BETWEEN_MS = 15;

/** Gives the desk the past of the scenario two months of an array at a time, between what its devices say now. */
async function remember(
  { watch }: RunningDesk,
  sites: readonly Site[],
  { clock, log }: Surroundings,
  signal: AbortSignal,
): Promise<void> {
  for (const readings of demoPast(sites, clock.now(), SEED)) {
    if (signal.aborted) return;
    await watch.accept(readings);
    await clock.pause(BETWEEN_MS, signal);
  }
  log.info({ years: 5 }, "the past of the demonstration is in");
}

async function failLater(fleet: Fleet, { clock, log }: Surroundings, signal: AbortSignal): Promise<void> {
  const { site, inverter, ohms, afterMs } = FAILS;
  await clock.pause(afterMs, signal);
  if (signal.aborted || !fleet.fault(site, inverter, { kind: "hard", ohms, port: 1 })) return;
  log.info(
    { site, inverter, ohms },
    "a connector of the demonstration has failed; the desk does not know it yet",
  );
}

function demoSettings(fleet: Fleet): DeskSettings {
  return {
    desk: { name: "Tolvassay Islands Energy Co-operative, demonstration" },
    tray: { folder: TRAY, instead: ["email", "webhook", "sms"] },
    gateways: fleet.gateways.map(({ id, host, port, devices }) => ({
      id,
      host,
      port,
      pollEvery: 0.1 as never,
      devices: devices.map((device) => ({ ...device, arrays: [...(device.arrays ?? [])] })) as never,
    })),
  };
}

function soundly(served: Served): RunningDesk {
  if (served.ok) return served.desk;
  throw new Error(`The demonstration's own files have faults: ${JSON.stringify(served.faults[0])}`);
}

/** Inverters of a site, as far as it says where it lies. */
function fleetSitesOf({ id, place, inverters, arrays }: Site): readonly FleetSite[] {
  const { latitudeDeg, longitudeDeg } = place;
  if (latitudeDeg === undefined || longitudeDeg === undefined) return [];
  return inverters.map((inverter) => ({
    site: id,
    inverter: inverter.id,
    arrays: arrays.filter((array) => array.inverter === inverter.id).map((array) => array.id),
    latitudeDeg,
    longitudeDeg,
    thresholdOhms: inverter.insulationCheck?.threshold ?? 30_000,
  }));
}

/** The same clock, moved so that it is early morning at the first site: at night there would be nothing to see. */
function dawnClock(clock: Clock, sites: readonly Site[]): Pick<Clock, "now"> {
  const longitudeDeg = sites.find(({ place }) => place.longitudeDeg !== undefined)?.place.longitudeDeg ?? 0;
  const solarHour = ((clock.now() % DAY_MS) / 3_600_000 + longitudeDeg / 15 + 24) % 24;
  const ahead = ((FIRST_HOUR - solarHour + 24) % 24) * 3_600_000;
  return { now: () => clock.now() + ahead };
}
