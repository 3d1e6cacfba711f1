import { describe, expect, it } from "vitest";
import { enteredReading, figureTyped, nodesOf, requestWords } from "./reading-field.ts";

const toEarth = { with: "meter", on: "S1", from: "-", to: "earth" } as const;

describe("a reading as it is typed", () => {
  it.each([
    ["278.6", "V", 278.6],
    ["278,6", "V", 278.6],
    ["−278.6", "V", 278.6],
    ["280", "mV", 0.28],
    ["0.28 kV", "V", 280],
  ])("takes %s %s as %d V, the size and not the sign", (text, unit, volts) => {
    const entered = enteredReading(toEarth, text, unit);
    expect(entered.ok && entered.reading.value).toBeCloseTo(volts, 9);
  });

  it.each(["", "abc", "1,234", "27860"])("refuses %s and says why", (text) => {
    const entered = enteredReading(toEarth, text, "V");
    expect(entered.ok).toBe(false);
    expect(!entered.ok && entered.message.length).toBeGreaterThan(10);
  });

  it("reads a shunt, a tester and a clamp into their own kinds of reading", () => {
    const shunt = enteredReading({ ...toEarth, shunt: "100 kΩ" }, "186", "V");
    expect(shunt.ok && shunt.reading).toMatchObject({ kind: "voltage", shunt: 100_000, value: 186 });
    const tester = enteredReading({ ...toEarth, with: "tester", testVoltage: "500 V" }, "1.2", "MΩ");
    expect(tester.ok && tester.reading).toMatchObject({ kind: "insulation", testVoltage: 500, value: 1.2e6 });
    const clamp = enteredReading({ ...toEarth, circuit: "C1", shunt: "100 kΩ" }, "2.5", "mA");
    expect(clamp.ok && clamp.reading).toMatchObject({
      kind: "leakage",
      circuit: "C1",
      shunt: 100_000,
      value: 0.0025,
    });
  });

  it("names the modules of a part of a string", () => {
    expect(requestWords({ ...toEarth, segment: [0, 7] })).toBe("S1, modules 1 to 7: − to earth");
  });

  it.each([
    [{ from: "-", to: "earth" }, [0]],
    [{ from: "+", to: "-" }, [20, 0]],
    [{ from: "+", to: "earth", segment: [0, 7] as const }, [7]],
    [{ from: "shorted", to: "earth" }, [0, 20]],
  ])("finds the nodes that %j touches", (reading, nodes) => {
    expect(nodesOf(reading, 20)).toEqual(nodes);
  });
});

describe("the figure of a resistor or a test voltage", () => {
  it.each([
    ["47", "100", "47"],
    ["4,7", "4", "4.7"],
    ["47k", "47", "47"],
    ["-47", "47", "47"],
  ])("makes %s, typed over %s, %s", (typed, before, after) => {
    expect(figureTyped(typed, before)).toBe(after);
  });

  it("can be emptied figure by figure and typed anew, so that no old figure stands before the new ones", () => {
    const typed = ["10", "1", "", "4", "47"];
    expect(typed.reduce((before, now) => figureTyped(now, before), "100")).toBe("47");
    expect(figureTyped("", "1")).toBe("");
  });
});
