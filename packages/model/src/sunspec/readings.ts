import type { ReadingKind, ReadingQuality, ReadingUnit, WatchReading } from "../watch/reading.ts";
import type { DeviceReport } from "./decode.ts";
import type { ExtraKind, SunspecDevice } from "./device.ts";

const UNITS: Readonly<Record<ExtraKind, ReadingUnit>> = {
  "earth-fault-bit": "bit",
  "residual-trip": "bit",
  insulation: "ohm",
  "residual-current": "ampere",
};

const LONGEST_WORD = 200;

/**
 * The readings of one poll, in the shape that the desk takes: one for each kind and array, the state of the device in a word,
 * and a heartbeat.
 *
 * @param at      instant at which the device answered [ms UTC]
 * @param source  name of the listener
 */
export function readingsOf(
  report: DeviceReport,
  device: SunspecDevice,
  at: number,
  source: string,
): readonly WatchReading[] {
  const told = report.observations.map(({ kind, array, value, quality }) =>
    reading(device, { kind, array, value, unit: UNITS[kind], quality, at, source }),
  );
  const word = stateText(report);
  if (word !== null)
    told.push(
      reading(device, {
        kind: "device-state",
        array: null,
        value: word,
        unit: "word",
        quality: "good",
        at,
        source,
      }),
    );
  told.push(
    reading(device, {
      kind: "heartbeat",
      array: null,
      value: true,
      unit: "none",
      quality: "good",
      at,
      source,
    }),
  );
  return told;
}

/** The word for a device's state names the ports at which it sees an earth fault: a technician starts there. */
function stateText({ state, faultyPorts }: DeviceReport): string | null {
  if (faultyPorts.length === 0) return state;
  const text = `${state ?? "state not told"}; earth fault at ${faultyPorts.join(" and ")}`;
  return text.length <= LONGEST_WORD ? text : `${text.slice(0, LONGEST_WORD - 1)}…`;
}

/** A reading as it was before, of which nothing is known any more: what a device that fell silent said decides nothing. */
export function staled(last: WatchReading, device: SunspecDevice, at: number): WatchReading {
  const { kind, unit, source, array = null } = last;
  return reading(device, { kind, array, value: null, unit, quality: "stale", at, source });
}

interface Told {
  readonly kind: ReadingKind;
  readonly array: string | null;
  readonly value: boolean | number | string | null;
  readonly unit: ReadingUnit;
  readonly quality: ReadingQuality;
  readonly at: number;
  readonly source: string;
}

function reading({ site, id: device }: SunspecDevice, { array, ...told }: Told): WatchReading {
  // The instant in base 36, so that three names of 60 characters leave the key below its 200.
  const key = [site, device, array ?? "", KIND_KEYS[told.kind], told.at.toString(36)].join("/");
  return { site, device, ...(array === null ? {} : { array }), ...told, key };
}

const KIND_KEYS: Readonly<Record<ReadingKind, string>> = {
  "earth-fault-bit": "ef",
  insulation: "ri",
  "residual-trip": "rt",
  "residual-current": "rc",
  "device-state": "st",
  heartbeat: "hb",
};
