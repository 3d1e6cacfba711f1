import type { Celsius, Ohms } from "../quantity/index.ts";

/**
 * Insulation resistance referred to another temperature by halving every 10 K: R · 0.5^((to − from)/10).
 *
 * A trend aid only, borrowed from rotating machines: moisture outranks temperature in PV, and the factor depends
 * strongly on the material. Never used to turn a reading into a pass.
 *
 * Source: IEEE 43 in its older form [secondary: electricneutron.com/electric-motor/temperature-winding-correction]
 * Check: checks/ieee-43
 * @example 100 MΩ at 20 °C referred to 40 °C: 25 MΩ
 */
export function insulationReferredTo(ohms: Ohms, from: Celsius, to: Celsius): Ohms {
  return (ohms * 0.5 ** ((to - from) / 10)) as Ohms;
}
