import { seededRandom } from "@earthbell/engine";
import { mixed, type Weather } from "./weather.ts";

/** What is wrong with an array of the rehearsal. */
export type FleetFault =
  | { readonly kind: "hard"; readonly ohms: number; readonly port: number }
  /** Only there while it is wet. */
  | { readonly kind: "dawn-wet"; readonly ohms: number; readonly port: number }
  /** The whole array loses a share of its insulation every day. */
  | {
      readonly kind: "drifting";
      readonly sharePerDay: number;
      readonly since: number;
      readonly port: number;
    };

/**
 * How a device lies.
 *
 * chain      a model gives a length past the last register
 * sentinels  every point holds the value that says it is absent
 * scale      an impossible scale factor
 * refusing   every read of a model is refused
 * garbled    what it sends is no Modbus
 * moving     its models move from one day to the next
 */
export const LIES = ["chain", "sentinels", "scale", "refusing", "garbled", "moving"] as const;
export type Lie = (typeof LIES)[number];

/** What is drawn once for a device: its insulation, its faults and its manners. Plain JSON. */
export interface Scenario {
  /** Insulation of the dry, sound array [Ω]. */
  readonly dryOhms: number;
  /** Insulation of the sound array when dripping wet, as a share of the dry one. */
  readonly wetShare: number;
  readonly fault: FleetFault | null;
  readonly lie: Lie | null;
  /** It answers nothing for an hour every day. */
  readonly drops: boolean;
  readonly seed: number;
}

/** Shares of the fleet that have something wrong, each from 0 to 1. */
export interface FleetShares {
  readonly faults: number;
  readonly dropouts: number;
  readonly liars: number;
}

const FAULT_KINDS = ["hard", "dawn-wet", "drifting"] as const;

/** Draws a device. Faults and lies are drawn apart, so that changing one share leaves the other as it was. */
export function drawScenario(seed: number, index: number, shares: FleetShares, startAt: number): Scenario {
  const own = mixed(seed, index);
  const random = seededRandom(own);
  const dryOhms = 1e6 * 20 ** random.uniform();
  const wetShare = 0.2 + 0.3 * random.uniform();
  const [faulty, lying, dropping] = [random.uniform(), random.uniform(), random.uniform()];
  const kind = FAULT_KINDS[Math.floor(3 * random.uniform())]!;
  const ohms = 1000 * 20 ** random.uniform();
  const lie = LIES[Math.floor(LIES.length * random.uniform())]!;
  const fault: FleetFault =
    kind === "drifting"
      ? { kind, sharePerDay: 0.05 + 0.1 * random.uniform(), since: startAt, port: 1 }
      : { kind, ohms, port: 1 };
  return {
    dryOhms,
    wetShare,
    fault: faulty < shares.faults ? fault : null,
    lie: lying < shares.liars ? lie : null,
    drops: dropping < shares.dropouts,
    seed: own,
  };
}

const DAY = 86_400_000;
const HOUR = 3_600_000;

/** Insulation of an array at an instant [Ω]: the sound array and its fault in parallel. */
export function insulationAt(
  { dryOhms, wetShare }: Scenario,
  fault: FleetFault | null,
  { wet }: Weather,
  at: number,
): number {
  const sound = dryOhms * wetShare ** wet;
  switch (fault?.kind) {
    case undefined:
      return sound;
    case "hard":
      return parallel(sound, fault.ohms);
    case "dawn-wet":
      return wet > 0 ? parallel(sound, fault.ohms / wet) : sound;
    case "drifting":
      return sound * (1 - fault.sharePerDay) ** Math.max(0, (at - fault.since) / DAY);
  }
}

function parallel(one: number, other: number): number {
  return 1 / (1 / one + 1 / other);
}

/** Whether a device that drops out is out at an instant: one hour of every day, another one each day. */
export function isOut({ drops, seed }: Scenario, at: number): boolean {
  if (!drops) return false;
  const day = Math.floor(at / DAY);
  const hour = Math.floor(24 * seededRandom(mixed(seed, day)).uniform());
  return Math.floor((at % DAY) / HOUR) === hour;
}
