import {
  insulationTest,
  insulationTestForSystem,
  SYSTEM_VOLTAGE_FACTOR,
  type Volts,
} from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

describe("IEC 62446-1, insulation test by system voltage", () => {
  it.each(cases.system)("$volts V: test at $test V, at least $megohms MΩ", ({ volts, test, megohms }) => {
    const row = insulationTestForSystem(volts as Volts);
    expect(row?.testVoltage).toBe(test);
    expect(row?.minimumOhms).toBe(megohms * 1e6);
  });

  it.each(cases.vocStc)(
    "Voc,stc $volts V is a system voltage of $system V: test at $test V",
    ({ volts, system, test }) => {
      expect(volts * SYSTEM_VOLTAGE_FACTOR).toBeCloseTo(system, 9);
      expect(insulationTest(volts as Volts)?.testVoltage).toBe(test);
    },
  );

  it("shows the weaker tag of the two figures", () => {
    expect(insulationTestForSystem(300 as Volts)?.tag).toBe("memory");
  });
});
