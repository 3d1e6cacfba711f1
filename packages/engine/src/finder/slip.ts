import type { ReadingCode } from "./reading-codes.ts";
import type { Reading, Visit, VoltageReading } from "./visit.ts";

/** A usual slip of the hand, by code and in a few words. */
export interface Slip {
  readonly code: ReadingCode;
  readonly blunder: string;
}

/**
 * The usual slip that, undone, makes the readings agree; slips that explain a value exactly are tried first.
 * @param fits  whether the readings agree with this one in the place of the doubtful one
 */
export function likeliestSlip(visit: Visit, reading: Reading, fits: (corrected: Reading) => boolean): Slip {
  const fitsTimes = (factors: readonly number[]): boolean =>
    factors.some((factor) => fits({ ...reading, value: reading.value * factor } as Reading));
  if (reading.kind === "voltage" && reading.value < 1 && !fitsTimes([1000]))
    return {
      code: "READING_METER_ON_AC",
      blunder: "meter on AC, a lead not touching, or V written as mV",
    };
  if (reading.kind === "voltage" && otherTerminals(reading).some(fits))
    return {
      code: "READING_LEADS_SWAPPED",
      blunder: "leads swapped: it fits as the reading of other terminals",
    };
  if (fitsTimes([1000, 0.001]))
    return {
      code: "READING_PREFIX_WRONG",
      blunder: "reading in mV taken as V, or another unit a thousandfold off",
    };
  if (fitsTimes([10, 0.1]))
    return { code: "READING_DIGIT_SHIFTED", blunder: "the decimal point slipped by one place" };
  const joined = stillJoined(visit, reading);
  if (joined && fits(joined))
    return { code: "READING_STRING_CONNECTED", blunder: "the string was still connected to its circuit" };
  if (fitsTimes(LIGHT_FACTORS))
    return {
      code: "READING_LIGHT_CHANGED",
      blunder: "light or temperature changed before it, or a string was still connected",
    };
  return {
    code: "READING_SLIP_UNKNOWN",
    blunder: "no usual slip explains it: a string still connected, or a wrong string length",
  };
}

/** From half to nearly twice, in steps that no needle of the fit falls between. */
const LIGHT_FACTORS = Array.from({ length: 120 }, (_, i) => 0.55 * 1.0095 ** i);

function otherTerminals(reading: VoltageReading): Reading[] {
  const pairs = [
    ["+", "earth"],
    ["-", "earth"],
    ["+", "-"],
  ] as const;
  return pairs
    .filter(([from, to]) => from !== reading.from || to !== reading.to)
    .map(([from, to]) => ({ ...reading, from, to }));
}

/** The same reading as one of the circuit that the string belongs to, where that circuit was read as well. */
function stillJoined(visit: Visit, reading: Reading): Reading | null {
  const circuit = visit.circuits.find(({ strings }) => strings.includes(reading.on));
  if (!circuit || reading.segment || reading.kind === "leakage") return null;
  const other = visit.readings.find(({ on, kind }) => on === circuit.id && kind !== "leakage");
  if (!other) return null;
  return { ...reading, on: circuit.id, ...(other.isolated ? { isolated: other.isolated } : {}) };
}
