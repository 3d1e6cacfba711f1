import type { AlarmLoop } from "../assess/site.ts";
import { cableLoopResistance, CONTACT_RESISTANCE_OHMS } from "../path/cable.ts";
import type { EndOfLine } from "./loop-design.ts";

export interface OperatingPoint {
  readonly loadV: number;
  /** Current through cable and contact [A]. */
  readonly lineA: number;
  readonly loopOhms: number;
}

/**
 * Voltage at the load and current in the line while sounding, battery at its end of discharge and cable hot.
 *
 * The load draws its stated current; the end-of-line resistor, if there is one, draws beside it:
 * V = (V_min − I·R) · R_eol / (R_eol + R), with R the cable out and back and the contact.
 * @returns null where supply, cable or load is missing
 * Source: Kirchhoff. Check: checks/loop-ngspice
 */
export function operatingPoint(loop: AlarmLoop, endOfLine: EndOfLine | null): OperatingPoint | null {
  const { supplyMinimum, cable, load } = loop;
  const cableOhms = cable === undefined ? null : cableLoopResistance(cable);
  if (supplyMinimum === undefined || load === undefined || cableOhms === null) return null;
  const loopOhms = cableOhms + CONTACT_RESISTANCE_OHMS;
  const alone = supplyMinimum - load.current * loopOhms;
  const loadV = endOfLine === null ? alone : (alone * endOfLine.ohms) / (endOfLine.ohms + loopOhms);
  return { loadV, lineA: (supplyMinimum - loadV) / loopOhms, loopOhms };
}
