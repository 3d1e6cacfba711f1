import { earthOn, type Configuration } from "./configuration.ts";
import { FLOATING, type PoleEarth } from "./reading-response.ts";
import type { Visit } from "./visit.ts";

/** A functional earth through less than this drowns every leak worth finding; readings to earth are then worthless. */
const LEAST_OHMS = 1e3;

/** What the functional earth adds to the poles of a configuration. */
export function poleEarthOf(visit: Visit, { on, parts }: Pick<Configuration, "on" | "parts">): PoleEarth {
  const earth = earthOn(
    visit,
    on,
    parts.some((part) => part.cut),
  );
  if (earth === null) return FLOATING;
  const siemens = 1 / Math.max(earth.through ?? 0, 1e-3);
  return earth.pole === "-" ? { minus: siemens, plus: 0 } : { minus: 0, plus: siemens };
}

/**
 * Whether the visit was measured with an earth so firm that it hides the fault. A clamp is not fooled: it shows what a
 * string loses to earth, whatever holds the poles.
 */
export function isHiddenByEarth(visit: Visit): boolean {
  const earth = visit.functionalEarth;
  if (!earth || earth.opened || (earth.through ?? 0) >= LEAST_OHMS) return false;
  return visit.readings.some((reading) => reading.on === earth.on && reading.segment === undefined);
}
