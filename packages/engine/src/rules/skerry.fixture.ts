import type { Site } from "../assess/site.ts";
import type { Celsius, Ohms, PerKelvin, VoltAmperes, Volts, Watts } from "../quantity/index.ts";
import type { RulePack } from "./pack.ts";

/** A pack with a value of every kind. */
export const PACK: RulePack = {
  format: "earthbell.rules/1",
  id: "skerry-2020",
  title: "Skerry",
  edition: "first",
  jurisdictions: [],
  selectedBy: "name",
  inForce: [],
  duty: [
    {
      id: "low",
      when: [{ fact: "max-voltage", atMost: 120 }],
      alarm: "not-required",
      text: "Low voltage.",
      source: "clause 3",
      tag: "memory",
    },
    { id: "rest", when: [], alarm: "required", text: "All else.", source: "clause 4", tag: "memory" },
  ],
  alarm: {
    signals: { value: ["message"], source: "clause 5", tag: "memory" },
    leastAddresses: { value: 2, source: "clause 5", tag: "memory" },
  },
  insulationThreshold: {
    rating: { value: "array-kilowatts", source: "table 1", tag: "memory" },
    rows: [{ above: 0, ohms: { value: 30_000, source: "table 1", tag: "memory" } }],
  },
  residual: [{ above: 0, milliamps: { value: 300, source: "clause 6", tag: "memory" } }],
};

/** One array on a building that the pack binds by name: 14 modules in series, 5.74 kWp, floating, on 10 kVA. */
export const SITE: Site = {
  id: "tarn-hill",
  place: { country: "ZZ", rules: { pack: PACK.id } },
  lowestTemperature: -3 as Celsius,
  modules: [
    {
      id: "M1",
      technology: "crystalline-silicon",
      pmax: 410 as Watts,
      voc: 49.5 as Volts,
      vocTemperatureCoefficient: { kind: "relative", perKelvin: -0.0027 as PerKelvin },
    },
  ],
  inverters: [
    {
      id: "INV1",
      ratedPower: 10_000 as VoltAmperes,
      separation: "none",
      residualMonitor: true,
      insulationCheck: { threshold: 20_000 as Ohms, at: ["start"] },
      defaultPasswordChanged: true,
    },
  ],
  arrays: [
    {
      ...{ id: "A1", inverter: "INV1", module: "M1", installed: "2021-03-14", earthing: "floating" },
      mounting: "building",
      strings: [{ id: "S1", modules: 14 }],
    },
  ],
  people: [],
  paths: [],
  proofs: [],
};
