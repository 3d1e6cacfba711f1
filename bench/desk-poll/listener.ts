import { setTimeout as sleep } from "node:timers/promises";
import type { RegisterRead, WatchReading } from "@earthbell/model";
import { machineClock } from "../../apps/desk/src/clock.ts";
import { openModbusTcp } from "../../apps/desk/src/listen/sunspec/modbus-tcp.ts";
import type { OpenLink } from "../../apps/desk/src/listen/sunspec/register-link.ts";
import { startSunspecListener } from "../../apps/desk/src/listen/sunspec/sunspec-listener.ts";
import type { FleetProcess } from "./fleet-process.ts";
import { type Measured, measureWindow } from "./measured.ts";

const FAULTS = 40;

/** From the request that sees a fault to the call of the desk, both ends included [ms]. */
export interface Latency {
  readonly faults: number;
  readonly medianMs: number;
  readonly worstMs: number;
}

/** What one poll of each gateway asks for, by its port: the last request that was seen. */
export type ReadsByPort = ReadonlyMap<number, RegisterRead>;

export async function measureListener(
  fleet: FleetProcess,
  everyMs: number,
  windowMs: number,
): Promise<{ readonly measured: Measured; readonly latency: Latency; readonly reads: ReadsByPort }> {
  const spy = spyOn();
  const portOf = new Map(fleet.gateways.map(({ port, devices }) => [devices[0]!.site, port]));
  const latencies = new Map<string, number>();
  const listener = startSunspecListener(
    {
      gateways: fleet.gateways.map((gateway) => ({
        ...gateway,
        pollEveryMs: everyMs,
        timeoutMs: 5000,
        restMs: 0,
      })),
    },
    {
      accept: (readings) => {
        const now = performance.now();
        for (const { site } of readings.filter(isFault))
          if (!latencies.has(site)) latencies.set(site, now - spy.askedAt.get(portOf.get(site)!)!);
        return Promise.resolve({ taken: readings.length, known: 0, setAside: [] });
      },
      clock: machineClock,
      random: Math.random,
      log: { info: () => undefined, warn: console.warn, error: console.error },
      open: spy.open,
    },
  );
  while (listener.health().state !== "hearing") await sleep(500);
  const measured = await measureWindow(windowMs, () => spy.requests);
  const reads = new Map(spy.lastRead);
  for (const { devices } of fleet.gateways.slice(0, FAULTS)) fleet.fault(devices[0]!.site);
  const until = performance.now() + 2 * everyMs;
  while (latencies.size < FAULTS && performance.now() < until) await sleep(200);
  await listener.stop();
  const sorted = [...latencies.values()].sort((one, other) => one - other);
  if (sorted.length < FAULTS) throw new Error(`Only ${sorted.length} of ${FAULTS} faults were told.`);
  const latency = { faults: sorted.length, medianMs: sorted[sorted.length >> 1]!, worstMs: sorted.at(-1)! };
  return { measured, latency, reads };
}

function isFault({ kind, value }: WatchReading): boolean {
  return kind === "earth-fault-bit" && value === true;
}

/** Opens real connections and notes what goes over them. */
function spyOn() {
  const spy = { requests: 0, askedAt: new Map<number, number>(), lastRead: new Map<number, RegisterRead>() };
  const open: OpenLink = async (place, timeoutMs, clock) => {
    const link = await openModbusTcp(place, timeoutMs, clock);
    return {
      close: () => {
        link.close();
      },
      read: (unit, read) => {
        spy.requests += 1;
        spy.askedAt.set(place.port, performance.now());
        spy.lastRead.set(place.port, read);
        return link.read(unit, read);
      },
    };
  };
  return Object.assign(spy, { open });
}
