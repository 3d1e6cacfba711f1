import type { RegisterAnswer, RegisterRead, WatchReading } from "@earthbell/model";
import type { Clock } from "../../clock.ts";
import { type Layout, type RegisterMap, registerMap } from "../../fleet/register-map.ts";
import type { Log } from "../../log.ts";
import type { Accept } from "../accept.ts";
import type { SunspecGateway } from "./gateway-loop.ts";
import { LinkFault, type OpenLink, type RegisterLink } from "./register-link.ts";

/** How a unit of the played gateway behaves. */
export type Manner = "answers" | "silent" | "refuses" | "garbles" | "refuses across models";

export interface PlayedUnit {
  map: RegisterMap;
  manner: Manner;
  /** Requests that reached it. */
  readonly asked: { readonly at: number; readonly read: RegisterRead }[];
}

/** A gateway in memory: what a test changes, and what it saw. */
export class PlayedGateway {
  readonly units = new Map<number, PlayedUnit>();
  reachable = true;
  /** Instants at which a connection was asked for. */
  readonly opened: number[] = [];
  private busy = false;
  private link: { closed: boolean } = { closed: true };

  add(unit: number, layout: Layout = "inverter", serial = `S-${String(unit)}`): PlayedUnit {
    const played: PlayedUnit = { map: registerMap(layout, 40_000, serial), manner: "answers", asked: [] };
    played.map.words[played.map.state - 40_000] = 4 - played.map.stateLess;
    if (played.map.insulation !== null) played.map.words[played.map.insulation - 40_000] = 2000;
    this.units.set(unit, played);
    return played;
  }

  /** Breaks the connection off. */
  reset(): void {
    this.link.closed = true;
  }

  connect(timeoutMs: number, clock: Clock): Promise<RegisterLink> {
    this.opened.push(clock.now());
    if (!this.reachable) return Promise.reject(new LinkFault("no-connection", "No connection."));
    const link = { closed: false };
    this.link = link;
    return Promise.resolve({
      read: (unit, read) => this.answer(link, unit, read, timeoutMs, clock),
      close: () => {
        link.closed = true;
      },
    });
  }

  private async answer(
    link: { closed: boolean },
    unit: number,
    read: RegisterRead,
    timeoutMs: number,
    clock: Clock,
  ): Promise<RegisterAnswer> {
    if (this.busy) throw new Error("Two requests at once on one connection.");
    if (read.count > 125) throw new Error("More registers than a request may ask for.");
    this.busy = true;
    try {
      await Promise.resolve();
      if (link.closed) throw new LinkFault("closed", "The gateway closed the connection.");
      const played = this.units.get(unit);
      played?.asked.push({ at: clock.now(), read });
      return await this.say(played, read, timeoutMs, clock);
    } finally {
      this.busy = false;
    }
  }

  private async say(
    played: PlayedUnit | undefined,
    { address, count }: RegisterRead,
    timeoutMs: number,
    clock: Clock,
  ): Promise<RegisterAnswer> {
    if (played === undefined || played.manner === "silent") {
      await clock.pause(timeoutMs, new AbortController().signal);
      throw new LinkFault("no-answer", "No answer in time.");
    }
    if (played.manner === "garbles") {
      this.link.closed = true;
      throw new LinkFault("unsound", "What comes back is not Modbus TCP.");
    }
    const { base, words, second } = played.map;
    const from = address - base;
    const refused =
      from < 0 ||
      from + count > words.length ||
      (played.manner === "refuses" && address >= second) ||
      (played.manner === "refuses across models" && count > 66);
    return refused
      ? { ok: false, exception: 2 }
      : { ok: true, registers: [...words.subarray(from, from + count)] };
  }
}

/** Sets or clears the earth-fault bit of an inverter. */
export function setFault({ map }: PlayedUnit, set: boolean): void {
  map.words[map.events + 1 - map.base] = set ? 1 : 0;
}

export function setKiloohms({ map }: PlayedUnit, kiloohms: number): void {
  map.words[map.insulation! - map.base] = kiloohms;
}

/** Opens the gateways by the name of their host. */
export function openPlayed(gateways: Readonly<Record<string, PlayedGateway>>): OpenLink {
  return ({ host }, timeoutMs, clock) => gateways[host]!.connect(timeoutMs, clock);
}

export function settingsOf(
  host: string,
  units: readonly number[],
  more: Partial<SunspecGateway> = {},
): SunspecGateway {
  return {
    id: host,
    host,
    port: 502,
    pollEveryMs: 10_000,
    timeoutMs: 2000,
    restMs: 0,
    devices: units.map((unit) => ({ id: `${host}-${String(unit)}`, unit, site: "tarn" })),
    ...more,
  };
}

/** A desk that takes everything in, or nothing. */
export class PlayedDesk {
  readonly taken: WatchReading[] = [];
  readonly batches: number[] = [];
  takesIn = true;

  readonly accept: Accept = async (readings) => {
    await Promise.resolve();
    if (!this.takesIn) throw new Error("disk full");
    this.batches.push(readings.length);
    this.taken.push(...readings);
    return { taken: readings.length, known: 0, setAside: [] };
  };

  /** What was told of a device and kind, in order. */
  of(device: string, kind: WatchReading["kind"]): readonly unknown[] {
    return this.taken
      .filter((reading) => reading.device === device && reading.kind === kind)
      .map(({ value, quality }) => (quality === "good" ? value : quality));
  }
}

export const quietLog: Log = { info: () => undefined, warn: () => undefined, error: () => undefined };
