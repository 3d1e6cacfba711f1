import { describe, expect, it } from "vitest";
import { floatingCircuit, settlingTimeS, voltmeterMethod, voltmeterReadsV } from "@earthbell/engine";
import cases from "./cases.json" with { type: "json" };

describe("the voltmeter method on worked readings [computed outside this project]", () => {
  it.each(cases.voltmeter)("$name", (row) => {
    const { openCircuitV, positiveV, negativeV, meterOhms, leakOhms, toleranceOhms } = row;
    const found = voltmeterMethod({ openCircuitV, positiveV, negativeV, inputOhms: meterOhms, errorV: 1 });
    if (found.outcome === "retake") throw new Error(found.because);
    expect(Math.abs(found.insulation.leakOhms - leakOhms)).toBeLessThanOrEqual(toleranceOhms);
    if (!("place" in row)) return;
    if (row.place === null) {
      expect(found).toMatchObject({ outcome: "no-hard-fault", insulation: { share: null } });
      return;
    }
    expect(found.insulation.share! * row.modules).toBeCloseTo(row.place, 9);
  });

  it.each(cases.twoLeaks.rows)("two leaks read through $meterOhms Ω, and back to the two leaks", (row) => {
    const { openCircuitV, positiveOhms, negativeOhms } = cases.twoLeaks;
    const circuit = floatingCircuit(openCircuitV, [
      { aboveNegativeV: openCircuitV, siemens: 1 / positiveOhms },
      { aboveNegativeV: 0, siemens: 1 / negativeOhms },
    ]);
    const read = (terminal: "+" | "-"): number =>
      voltmeterReadsV(circuit, { terminal, inputOhms: row.meterOhms });
    expect(Math.abs(read("+") - row.positiveV)).toBeLessThanOrEqual(0.005);
    expect(Math.abs(-read("-") - row.negativeV)).toBeLessThanOrEqual(0.005);
    const found = voltmeterMethod({
      openCircuitV,
      positiveV: read("+"),
      negativeV: read("-"),
      inputOhms: row.meterOhms,
      errorV: 1,
    });
    if (found.outcome !== "measured") throw new Error(found.because);
    expect(found.insulation.positiveOhms / positiveOhms).toBeCloseTo(1, 9);
    expect(found.insulation.negativeOhms / negativeOhms).toBeCloseTo(1, 9);
  });
});

describe("settling to 1 % [computed outside this project]", () => {
  it.each(cases.settling)("$farads F with $ohms Ω takes $seconds s", ({ farads, ohms, seconds, digit }) => {
    expect(Math.abs(settlingTimeS(farads, ohms) - seconds)).toBeLessThanOrEqual(digit / 2 + 1e-9);
  });
});
