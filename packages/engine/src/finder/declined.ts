import { isHiddenByEarth } from "./functional-earth.ts";
import type { ReadingCode } from "./reading-codes.ts";
import { isThroughDiodes } from "./through-diodes.ts";
import type { Visit } from "./visit.ts";

/** Why no place can be named from readings as they were taken: physics, not doubt. */
export interface Declined {
  readonly code: ReadingCode;
  readonly because: string;
  /** Whether a step of the plan helps; if not, the circuit has to be changed by licensed people first. */
  readonly planned: boolean;
}

/**
 * What these readings cannot say whatever their values are: taken with a functional earth closed that hides every fault,
 * under load, or only through blocking diodes; null where nothing of the kind was recorded.
 */
export function declinedBy(visit: Visit): Declined | null {
  if (isHiddenByEarth(visit))
    return {
      code: "READING_EARTH_CLOSED",
      because:
        "the functional earth was closed while the readings were taken and hides the fault; a licensed person opens it first, taking the conductor it held at earth as live from then on",
      planned: false,
    };
  if (visit.conditions.underLoad === true)
    return {
      code: "READING_UNDER_LOAD",
      because:
        "the readings were taken under load: an inverter sets the potentials to earth and the place does not show; stop it, open the DC isolator, prove zero current and read at open circuit",
      planned: false,
    };
  if (visit.readings.length > 0 && visit.readings.every((reading) => isThroughDiodes(visit, reading)))
    return {
      code: "READING_THROUGH_DIODES",
      because:
        "every reading was taken through blocking diodes, behind which a string may not have been part of it; isolate the strings and read each alone, on its own side of the diode",
      planned: true,
    };
  return null;
}
