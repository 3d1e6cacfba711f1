import type { AlarmLoop } from "../assess/site.ts";
import { conductorKind, conductorResistancePerMetre } from "../limits/conductor.ts";
import type { Amperes, Celsius, Ohms, SquareMillimetres, Volts } from "../quantity/index.ts";
import { figure, listed, type Remark } from "./judgement.ts";

/** Conductor temperature where none is stated: a cable in the sun on a roof (design choice, unfavourable end). */
const HOT_CABLE_C = 70;
/** Closed contact where none is stated: the usual limit for a new relay contact (memory). */
export const CONTACT_RESISTANCE_OHMS = 0.1;
/** End of discharge as a share of nominal where none is stated: 10.5 V of 12 V, 1.75 V a lead-acid cell (memory). */
const END_OF_DISCHARGE_SHARE = 0.875;
/** Greatest current density allowed in an alarm cable (design choice, cautious). */
const AMPERES_PER_MM2 = 4;
const TIGHT_MARGIN = 0.05;

type Cable = NonNullable<AlarmLoop["cable"]>;

/** Current a fuse may let a cable carry. */
export function cableCurrentLimit(areaMm2: SquareMillimetres): Amperes {
  return (AMPERES_PER_MM2 * areaMm2) as Amperes;
}

/**
 * Resistance of the loop's cable, out and back, at its temperature: 2 · ℓ · r₂₀ · (1 + 0.00393 · (T − 20)).
 *
 * Absent class: flexible (class 5), the larger resistance. Absent temperature: 70 °C. Absent `tinned`: plain copper.
 * @returns [Ω], or null for a size or kind the conductor table does not hold
 * Source: IEC 60228, tags in limits/conductor.ts. Check: checks/annunciator-loop
 */
export function cableLoopResistance(cable: Cable): Ohms | null {
  const kind = conductorKind(cable.class ?? 5, cable.tinned === true);
  if (kind === null) return null;
  const temperature = cable.temperature ?? (HOT_CABLE_C as Celsius);
  const perMetre = conductorResistancePerMetre(cable.area, kind, temperature);
  return perMetre === null ? null : ((2 * cable.length * perMetre.value) as Ohms);
}

export interface LoadVoltage {
  /** At the load, battery at its end, cable hot, contact without resistance. */
  readonly volts: Volts;
  /** The same less the drop over a contact of 0.1 Ω: what the judgement uses. */
  readonly worstVolts: Volts;
}

/** V_load = V_supply,min − I · (2 ℓ r(T) + R_contact). Null where supply, load or cable is missing or not tabulated. */
export function loadVoltage(loop: AlarmLoop): LoadVoltage | null {
  const { load, cable } = loop;
  const minimum =
    loop.supplyMinimum ?? (loop.supply === undefined ? undefined : END_OF_DISCHARGE_SHARE * loop.supply);
  const resistance = cable === undefined ? null : cableLoopResistance(cable);
  if (minimum === undefined || load === undefined || resistance === null) return null;
  const volts = minimum - load.current * resistance;
  return { volts: volts as Volts, worstVolts: (volts - load.current * CONTACT_RESISTANCE_OHMS) as Volts };
}

function missingForVoltage(loop: AlarmLoop): readonly string[] {
  return [
    ...(loop.supply === undefined && loop.supplyMinimum === undefined ? ["the supply voltage"] : []),
    ...(loop.cable === undefined ? ["the cable"] : []),
    ...(loop.load === undefined ? ["the load"] : []),
    ...(loop.load !== undefined && loop.load.minimumVoltage === undefined
      ? ["the load's least voltage"]
      : []),
  ];
}

function assumedForVoltage(loop: AlarmLoop): readonly string[] {
  const { cable, supply } = loop;
  return [
    ...(loop.supplyMinimum === undefined && supply !== undefined
      ? [`the battery ends at ${figure(END_OF_DISCHARGE_SHARE * supply)} V`]
      : []),
    ...(cable !== undefined && cable.class === undefined ? ["the cable is flexible (class 5)"] : []),
    ...(cable !== undefined && cable.temperature === undefined ? [`the cable is at ${HOT_CABLE_C} °C`] : []),
  ];
}

function verdictOnVoltage(loop: AlarmLoop): readonly Remark[] {
  const voltage = loadVoltage(loop);
  const needed = loop.load?.minimumVoltage;
  if (voltage === null || needed === undefined) return [];
  const { worstVolts } = voltage;
  const figures = { loadVoltage: voltage.volts, loadVoltageWorst: worstVolts, minimumVoltage: needed };
  const stated = `With the battery at its end and the cable hot the load gets ${figure(worstVolts, 2)} V and needs ${figure(needed, 2)} V`;
  if (worstVolts < needed) {
    const text = `${stated}, so it may not operate. Use a larger or shorter cable, a smaller load or a higher loop voltage.`;
    return [{ code: "PATH_LOAD_VOLTAGE_LOW", text, figures }];
  }
  if (worstVolts >= needed * (1 + TIGHT_MARGIN)) return [];
  return [
    {
      code: "PATH_LOAD_VOLTAGE_TIGHT",
      text: `${stated}; an aged joint uses that margin up. Choose the next larger cable.`,
      figures,
    },
  ];
}

/** Whether the load still operates with the battery at its end of discharge and the cable hot. */
export function judgeCable(loop: AlarmLoop): readonly Remark[] {
  const remarks: Remark[] = [];
  const missing = missingForVoltage(loop);
  if (missing.length > 0) {
    const text = `The voltage at the load cannot be judged, because these are not stated: ${listed(missing)}. Record them.`;
    remarks.push({ code: "PATH_LOOP_INCOMPLETE", text });
  }
  if (loop.cable !== undefined && cableLoopResistance(loop.cable) === null) {
    const { area, class: conductorClass, tinned } = loop.cable;
    const kind = `${figure(area, 2)} mm², class ${conductorClass ?? 5}${tinned === true ? ", tinned" : ""}`;
    const text = `No resistance is tabulated for a cable of ${kind}, so the voltage at the load cannot be judged. Check the marking of the cable.`;
    remarks.push({ code: "PATH_CABLE_AREA_UNKNOWN", text });
  }
  const assumed = assumedForVoltage(loop);
  if (assumed.length > 0) {
    remarks.push({
      code: "PATH_LOOP_ASSUMED_WORST",
      text: `The loop is judged at its worst where the site file does not say: ${listed(assumed)}. Record the true values; the result can only get better.`,
    });
  }
  return [...remarks, ...verdictOnVoltage(loop)];
}
