import { assessSite, type Site } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

describe("AS/NZS 5033:2014 cl. 3.4.3, arrays above 120 V d.c. on the coldest day", () => {
  it.each(cases.cases)("3 × $voc V at $celsius °C: $volts V, $alarm", ({ voc, celsius, volts, alarm }) => {
    const site = {
      id: "site",
      place: { country: "AU", region: "VIC" },
      lowestTemperature: celsius,
      modules: [{ id: "M", pmax: 320, voc, technology: "crystalline-silicon" }],
      inverters: [{ id: "I", ratedPower: 1000 }],
      arrays: [
        { id: "A", inverter: "I", module: "M", installed: "2019-03-14", strings: [{ id: "S", modules: 3 }] },
      ],
      people: [],
      paths: [],
      proofs: [],
    } as unknown as Site;
    const [array] = assessSite(site).arrays;
    expect(array!.maxVoltage!.volts).toBeCloseTo(volts, 2);
    expect(array!.duty.alarm).toBe(alarm);
    expect(array!.duty.rulePack).toBe("au-nz-5033-2014");
  });
});
