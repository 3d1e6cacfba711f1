import { describe, expect, it } from "vitest";
import type { Path, Site } from "../assess/site.ts";
import { annunciator, message, tarn } from "../path/tarn.fixture.ts";
import { loopReport } from "./loop-report.ts";

const withPaths = (...paths: readonly Path[]): Site => ({ ...tarn, paths });

describe("loopReport", () => {
  it("approves a sound loop without a fault and passes over what has no loop", () => {
    const { loops, withoutLoop } = loopReport(withPaths(message, annunciator));
    expect(loops).toMatchObject([{ path: "P2", verdict: "approved", faults: [], contactInverter: "INV1" }]);
    // By hand: 10.5 V − 0.3 A · (2 · 60 m · 13.3 mΩ/m · (1 + 0.00393 · 30) + 0.1 Ω) = 9.935 V.
    expect(loops[0]!.loadVoltageAsGivenV).toBeCloseTo(9.935, 3);
    expect(withoutLoop).toEqual(["P1"]);
  });

  it("names what is wrong with a thin cable and repairs it", () => {
    const cable = { ...annunciator.loop!.cable!, area: 0.5 };
    const thin = { ...annunciator, loop: { ...annunciator.loop, cable } } as Path;
    const [loop] = loopReport(withPaths(thin)).loops;
    expect(loop!.verdict).toBe("repaired");
    expect(loop!.faults.map(({ code }) => code).join()).toMatch(/PATH_(?:CABLE|LOAD|VOLTAGE)/u);
    expect(loop!.design!.figures!.loadVoltage).toBeGreaterThan(loop!.loadVoltageAsGivenV!);
  });

  it("designs nothing without the contact's rating for direct current, and names the field", () => {
    const inverters = tarn.inverters.map((inverter) => ({ ...inverter, relay: {} }));
    const [loop] = loopReport({ ...withPaths(annunciator), inverters }).loops;
    expect(loop).toMatchObject({
      verdict: "not-designed",
      design: null,
      missing: ["inverters INV1: relay.dcRating"],
    });
  });
});
