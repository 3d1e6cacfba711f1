import type { Sourced } from "../provenance.ts";
import type { Ohms, OhmSquareMetres, SquareMetres } from "../quantity/index.ts";

/** Least area-specific insulation that a module type must show in the wet leakage test. */
export const WET_LEAKAGE_FLOOR: Sourced<OhmSquareMetres> = {
  value: 40e6 as OhmSquareMetres,
  source: "IEC 61215-2 MQT 15, modules above 0.1 m²",
  tag: "memory",
};

/**
 * Lowest insulation that a healthy array may honestly show when wet and warm: 40 MΩ·m² / area.
 *
 * A floor of qualification, not what a field shows: new modules are far above it.
 *
 * @param area  total module area behind one insulation check [m²], > 0
 * Source: IEC 61215-2 MQT 15 [memory]; its use on whole arrays [memory]. Check: checks/array-floor
 * @example 150 m²: 266.7 kΩ
 */
export function healthyFloor(area: SquareMetres): Ohms {
  return (WET_LEAKAGE_FLOOR.value / area) as Ohms;
}
