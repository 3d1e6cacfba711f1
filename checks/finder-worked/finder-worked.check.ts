import { describe, expect, it } from "vitest";
import {
  locate,
  type Finding,
  type Ohms,
  type Ratio,
  type Reading,
  type Terminal,
  type Visit,
  type Volts,
} from "@earthbell/engine";
import worked from "../circuit-worked/cases.json" with { type: "json" };

const { modules, moduleV, meterOhms, oneFault, withHealthyLeakage, shunted, twoFaults } =
  worked.floatingString;
const openCircuitV = modules * moduleV;

function volts(
  from: Terminal,
  to: Terminal | "earth",
  value: number,
  more: { on?: string; shunt?: number } = {},
): Reading {
  const shunt = more.shunt === undefined ? {} : { shunt: more.shunt as Ohms };
  return {
    kind: "voltage",
    with: "meter",
    on: more.on ?? "S1",
    from,
    to,
    value: Math.abs(value) as Volts,
    ...shunt,
  };
}
const poles = (positiveV: number, negativeV: number, on = "S1"): Reading[] => [
  volts("+", "-", openCircuitV, { on }),
  volts("+", "earth", positiveV, { on }),
  volts("-", "earth", negativeV, { on }),
];

/** A visit with a meter so good that its errors hide nothing which the circuit shows. */
function visitWith(readings: readonly Reading[], more: Partial<Visit> = {}): Visit {
  return {
    strings: [{ id: "S1", modules }],
    circuits: [],
    instruments: [
      {
        name: "meter",
        kind: "voltmeter",
        inputResistance: meterOhms as Ohms,
        inputTolerance: 0.001 as Ratio,
        accuracy: { reading: 0.0005 as Ratio, floor: 0.02 as Volts },
      },
    ],
    conditions: { mismatch: 0.0005 as Ratio, drift: 0.0005 as Ratio, wet: false },
    readings,
    costs: {},
    ...more,
  };
}

const probabilityOf = (finding: Finding, what: string): number =>
  finding.hypotheses.find((hypothesis) => hypothesis.what === what)!.probability;
const opensFirst = ({ next: [first] }: Finding): boolean =>
  first !== undefined && (first.action === "confirm" || first.action === "open-connector");
/** Mean place of the finding, given one fault. */
function meanAt({ places }: Finding): number {
  const all = places.reduce((sum, { probability }) => sum + probability, 0);
  return places.reduce((sum, { at, probability }) => sum + at * probability, 0) / all;
}

describe("one fault of 50 kΩ at junction 7", () => {
  const finding = locate(visitWith(poles(oneFault.positiveV, oneFault.negativeV)));

  it("is located there", () => {
    expect(finding.verdict).toBe("located");
    expect(finding.places[0]).toMatchObject({ string: "S1", at: oneFault.at, what: "junction" });
  });

  it("has its resistance within the interval", () => {
    expect(finding.insulation[0]!.low).toBeLessThan(oneFault.faultOhms);
    expect(finding.insulation[0]!.high).toBeGreaterThan(oneFault.faultOhms);
  });

  it("is found from the pole voltages before and after the shunt as well", () => {
    // The meter stays on the negative pole in these rows; the first and the third are readings of ours.
    const [open, , across] = shunted.rows;
    const readings = [
      volts("+", "-", openCircuitV),
      volts("-", "earth", open!.negativeV),
      volts("-", "earth", across!.negativeV, { shunt: shunted.shuntOhms }),
    ];
    const [first] = locate(visitWith(readings)).places;
    expect(first).toMatchObject({ at: shunted.at });
  });
});

describe.each(withHealthyLeakage.rows.map((row) => [row.faultOhms, row] as const))(
  "a fault of %i Ω at junction 7 beside healthy leakage of 1 GΩ a junction",
  (_, row) => {
    const readings = poles(row.positiveV, row.negativeV);

    it("is named there, where the hand rule is drawn towards mid-string", () => {
      const finding = locate(visitWith(readings));
      expect(finding.places[0]).toMatchObject({ at: withHealthyLeakage.at });
      expect(Math.abs(finding.handRule[0]!.at! - row.place)).toBeLessThan(5e-5);
    });

    it("has the insulation of fault and healthy leakage together", () => {
      const [whole] = locate(visitWith(readings)).insulation;
      expect(whole!.low).toBeLessThan(row.isolationOhms);
      expect(whole!.high).toBeGreaterThan(row.isolationOhms);
    });

    it("is named without the bias, to 0.02 module, once a sound string beside it tells the healthy leakage", () => {
      // 50 MΩ of healthy leakage: each pole reads 400 V · 10 MΩ/(10 MΩ + 50 MΩ).
      const healthyOhms = withHealthyLeakage.moduleLeakOhms / modules;
      const each = (openCircuitV / 2) * (meterOhms / (meterOhms + healthyOhms));
      const strings = ["S1", "S2"].map((id) => ({ id, modules }));
      const beside = visitWith([...readings, ...poles(each, each, "S2")], { strings });
      expect(Math.abs(meanAt(locate(beside)) - withHealthyLeakage.at)).toBeLessThan(0.02);
    });
  },
);

describe("two faults whose readings are those of one", () => {
  /** Prior odds of one fault to two on a dry array, as the finder states them. */
  const prior = { one: 0.73, two: 0.04 };
  const oneOfBoth = (finding: Finding): number => {
    const [one, two] = [
      probabilityOf(finding, "one damaged place"),
      probabilityOf(finding, "two damaged places"),
    ];
    return one / (one + two);
  };
  // Printed for an ideal meter; one of 10 MΩ lowers both poles by its share of the divider.
  const gain = meterOhms / (meterOhms + twoFaults.equivalentOhms);
  const finding = locate(visitWith(poles(twoFaults.positiveV * gain, twoFaults.negativeV * gain)));

  it("are never called located beyond the prior's own odds unless opening the string is advised first", () => {
    const beyond = finding.verdict === "located" && oneOfBoth(finding) > prior.one / (prior.one + prior.two);
    expect(!beyond || opensFirst(finding)).toBe(true);
    expect(finding.warnings.join()).toContain("cannot tell one fault from two");
    expect(finding.because).not.toMatch(/100(\.0)? %/);
  });

  it("are shown the place that both pretend, and the resistance of both together", () => {
    expect(Math.abs(finding.handRule[0]!.at! - twoFaults.place)).toBeLessThan(5e-5);
    expect(finding.insulation[0]!.low).toBeLessThan(twoFaults.equivalentOhms);
    expect(finding.insulation[0]!.high).toBeGreaterThan(twoFaults.equivalentOhms);
  });

  it("in all 268 pairs that pretend a junction, opening the string is advised, in at least 95 % before all else", () => {
    const findings = mimics().map((readings) => locate(visitWith(readings)));
    expect(findings.length).toBe(twoFaults.mimics.count);
    for (const { next } of findings)
      expect(next.some(({ action }) => action === "confirm" || action === "open-connector")).toBe(true);
    expect(findings.filter(opensFirst).length / findings.length).toBeGreaterThanOrEqual(0.95);
  });
});

/** The five first readings of pairs of junctions, in five ratios of resistance, whose centre lies by a junction. */
function mimics(): Reading[][] {
  const found: Reading[][] = [];
  const ohms = twoFaults.faults[0]!.ohms;
  for (let low = 0; low <= modules; low++)
    for (let high = low + 1; high <= modules; high++)
      for (const power of [-1, -0.5, 0, 0.5, 1]) {
        const [first, second] = [1 / ohms, 1 / (ohms * 10 ** power)];
        const leak = first + second;
        const centre = (low * first + high * second) / leak;
        if (Math.abs(centre - Math.round(centre)) >= twoFaults.mimics.within) continue;
        const minus = (siemens: number): number => (centre * moduleV * leak) / (leak + siemens);
        const plus = (siemens: number): number =>
          ((openCircuitV - centre * moduleV) * leak) / (leak + siemens);
        const [bare, shunt] = [1 / meterOhms, 1 / meterOhms + 1 / shunted.shuntOhms];
        found.push([
          ...poles(plus(bare), minus(bare)),
          volts("+", "earth", plus(shunt), { shunt: shunted.shuntOhms }),
          volts("-", "earth", minus(shunt), { shunt: shunted.shuntOhms }),
        ]);
      }
  return found;
}
