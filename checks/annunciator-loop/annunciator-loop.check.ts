import { type AlarmLoop, cableLoopResistance, loadVoltage } from "@earthbell/engine";
import { describe, expect, it } from "vitest";

const loop = (cable: object, supplyMinimum: number, current: number): AlarmLoop =>
  ({ supplyMinimum, cable, load: { kind: "sounder", current } }) as unknown as AlarmLoop;
const solid = (temperature: number): object => ({ area: 1.5, class: 2, length: 50, temperature });

describe("loop of two cores", () => {
  it.each([
    [20, 1.21, 0.3025],
    [70, 1.448, 0.3619],
  ])("50 m, 1.5 mm², class 2, at %i °C: %f Ω, 0.25 A drops %f V", (celsius, ohms, drop) => {
    const made = loop(solid(celsius), 12, 0.25);
    expect(cableLoopResistance(made.cable!)).toBeCloseTo(ohms, 3);
    expect(12 - loadVoltage(made)!.volts).toBeCloseTo(drop, 4);
  });

  it("70 °C is 1.1965 times 20 °C", () => {
    const at = (celsius: number): number => cableLoopResistance(loop(solid(celsius), 12, 0).cable!)!;
    expect(at(70) / at(20)).toBeCloseTo(1.1965, 4);
  });

  it("60 m, 1.5 mm², class 5, at 50 °C, 0.3 A from 10.5 V leaves 9.965 V", () => {
    const made = loop({ area: 1.5, class: 5, length: 60, temperature: 50 }, 10.5, 0.3);
    expect(loadVoltage(made)!.volts).toBeCloseTo(9.965, 3);
  });
});
