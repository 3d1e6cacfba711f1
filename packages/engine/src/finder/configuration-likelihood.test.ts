import { describe, expect, it } from "vitest";
import { firstRequests, seededRandom } from "../simulate/index.ts";
import { configurationsOf } from "./configuration.ts";
import { leakTable, lookUp, type LeakTable, type VoltagePrior } from "./configuration-likelihood.ts";
import { benchOf } from "./instruments.ts";
import { exactVisit, insulation, noisyVisit, stringWith, visitTo, volts } from "./simulated-visit.fixture.ts";
import type { Visit } from "./visit.ts";

/**
 * The same likelihood in another form: the readings as one Gaussian vector whose covariance holds what is unknown of
 * V, of u and of the meter (the table solves normal equations and eliminates instead). With the share ρ held and with
 * ρ = u/V free in turn; ln density up to one constant.
 */
function densityAt(visit: Visit, voltage: VoltagePrior, lnG: number, share: number): number {
  const bench = benchOf(visit);
  const G = Math.exp(lnG);
  const priorV = (voltage.relativeSd * voltage.volts) ** 2;
  const rows = visit.readings.map((reading) => {
    if (reading.kind !== "voltage") throw new Error("voltages only");
    const meter = bench.meters.get(reading.with)!;
    const shunt = reading.shunt === undefined ? 0 : 1 / reading.shunt;
    const total = G + meter.inputSiemens + shunt;
    const across = reading.to !== "earth";
    // Per volt of V, at the share held.
    const perVolt = across ? 1 : ((reading.from === "-" ? share : 1 - share) * G) / total;
    const perMeter = across ? 0 : -(reading.value * meter.inputSiemens) / total;
    const variance =
      reading.value ** 2 * (meter.reading ** 2 + bench.drift ** 2) +
      meter.floorVolts ** 2 +
      ((reading.value * 0.005 * shunt) / total) ** 2;
    return { value: reading.value, perVolt, perMeter, variance, tolerance: meter.inputTolerance };
  });
  // The vague prior of the centroid (a half, standard deviation two, of the expected voltage) is one more observation.
  const prior = {
    value: 0.5 * voltage.volts,
    perVolt: share,
    perMeter: 0,
    variance: (2 * voltage.volts) ** 2,
  };
  const all = [...rows, { ...prior, tolerance: rows[0]!.tolerance }];
  const covariance = all.map((a, i) =>
    all.map(
      (b, j) =>
        a.perVolt * b.perVolt * priorV +
        a.perMeter * b.perMeter * a.tolerance ** 2 +
        (i === j ? a.variance : 0),
    ),
  );
  const residual = all.map((row) => row.value - row.perVolt * voltage.volts);
  return lnGaussian(covariance, residual);
}

function lnGaussian(covariance: number[][], residual: number[]): number {
  // Cholesky, forward substitution.
  const n = residual.length;
  const factor = covariance.map((row) => row.map(() => 0));
  const white: number[] = [];
  let lnDeterminant = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = covariance[i]![j]!;
      for (let k = 0; k < j; k++) sum -= factor[i]![k]! * factor[j]![k]!;
      factor[i]![j] = i === j ? Math.sqrt(sum) : sum / factor[j]![j]!;
    }
    let rest = residual[i]!;
    for (let k = 0; k < i; k++) rest -= factor[i]![k]! * white[k]!;
    white.push(rest / factor[i]![i]!);
    lnDeterminant += Math.log(factor[i]![i]!);
  }
  return -0.5 * white.reduce((sum, value) => sum + value * value, 0) - lnDeterminant;
}

function tableOf(visit: Visit, voltage: VoltagePrior): LeakTable {
  const [configuration] = configurationsOf(visit);
  return leakTable(visit.readings, configuration!, benchOf(visit), voltage);
}

const VOLTAGE: VoltagePrior = { volts: 800, relativeSd: 0.3 };
const entry = { peak: 0, share: 0, variance: 0 };
const MEASURED: readonly (readonly [string, Visit])[] = [
  ["a bolted fault", noisyVisit(stringWith([{ string: "S1", at: 7, ohms: 10 }]), seededRandom(1))],
  ["a fault of 10 kΩ", noisyVisit(stringWith([{ string: "S1", at: 5, ohms: 10e3 }]), seededRandom(2))],
  ["a fault of 1 MΩ", noisyVisit(stringWith([{ string: "S1", at: 16, ohms: 1e6 }]), seededRandom(3))],
  ["a sound string", noisyVisit(stringWith([]), seededRandom(4))],
  [
    "plain readings without shunt",
    noisyVisit(
      stringWith([{ string: "S1", at: 3, ohms: 50e3 }]),
      seededRandom(5),
      firstRequests("S1").slice(0, 3),
    ),
  ],
];

describe.each(MEASURED)("the leak table of %s", (_, visit) => {
  const table = tableOf(visit, VOLTAGE);
  const best = table.best.index;
  const direct = (lnG: number): number => {
    lookUp(table, lnG, entry);
    return densityAt(visit, VOLTAGE, lnG, entry.share);
  };
  // The table leaves constants out: they are taken from its best node.
  const offset = densityAt(visit, VOLTAGE, table.lnG[best]!, table.share[best]!) - table.peak[best]!;

  it("agrees with the direct evaluation at every node that matters", () => {
    table.lnG.forEach((lnG, i) => {
      if (table.peak[i]! < table.best.peak - 30) return;
      const error = densityAt(visit, VOLTAGE, lnG, table.share[i]!) - offset - table.peak[i]!;
      expect(Math.abs(error)).toBeLessThan(2e-3);
    });
  });

  it("does not step over the needle: no point of a dense scan lies above its best", () => {
    const from = table.lnG[0]!;
    const to = table.lnG[table.lnG.length - 1]!;
    let top = -Infinity;
    for (let i = 0; i <= 12_000; i++) top = Math.max(top, direct(from + ((to - from) * i) / 12_000));
    expect(top - offset).toBeLessThan(table.best.peak + 0.05);
  });

  it("is off by less than 0.06 in ln L between its nodes, where L is above e⁻¹⁰ of the best", () => {
    for (let i = 1; i < table.lnG.length; i++)
      for (const part of [0.25, 0.5, 0.75]) {
        const lnG = table.lnG[i - 1]! + part * (table.lnG[i]! - table.lnG[i - 1]!);
        lookUp(table, lnG, entry);
        if (entry.peak < table.best.peak - 10) continue;
        expect(Math.abs(direct(lnG) - offset - entry.peak)).toBeLessThan(0.06);
      }
  });

  it("is a Gaussian in the share with the variance it states, to 2 % of a nat within two sigma", () => {
    const sd = Math.sqrt(table.variance[best]!);
    for (const z of [-2, -1, 1, 2]) {
      const fall =
        densityAt(visit, VOLTAGE, table.lnG[best]!, table.share[best]! + z * sd) - offset - table.best.peak;
      expect(Math.abs(fall + z ** 2 / 2)).toBeLessThan(0.02);
    }
  });
});

describe("what the leak table makes of readings", () => {
  it.each([
    ["a fault of 10 kΩ by meter and shunt", 10e3],
    ["a fault of 300 kΩ by meter and shunt", 300e3],
  ])("finds the conductance of %s within its stated width", (_, ohms) => {
    const leakless = stringWith([{ string: "S1", at: 5, ohms }], Infinity);
    const { best } = tableOf(exactVisit(leakless), VOLTAGE);
    expect(Math.abs(best.lnG + Math.log(ohms))).toBeLessThan(best.sigma);
    // Two pairs of readings, each with and without a shunt R0: sd(R)/R = ε·(1 + R0/R) [the shunt method's error law,
    // computed], ε = 0.5 % of meter and light; the shunt itself is good to 0.5 %.
    expect(best.sigma).toBeLessThan(1.1 * Math.hypot(0.005 * (1 + 100e3 / ohms), 0.005));
  });

  it("has no best but a floor for a bolted fault, as the missing volts are within the errors", () => {
    const table = tableOf(exactVisit(stringWith([{ string: "S1", at: 5, ohms: 10 }])), VOLTAGE);
    expect(table.lowestLnG).toBeGreaterThan(-Math.log(10e3));
    expect(table.lowestLnG).toBeLessThan(-Math.log(100));
  });

  it("counts readings beyond the unknowns: centroid, voltage, leak", () => {
    const plain = [volts("+", "-", 800), volts("+", "earth", 600), volts("-", "earth", 190)];
    const freedom = (readings: Visit["readings"]): number =>
      tableOf(visitTo(20, readings), VOLTAGE).misfit.freedom;
    expect(freedom(plain)).toBe(0);
    expect(freedom([...plain, volts("+", "earth", 550, { shunt: 1e5 as never })])).toBe(1);
    expect(freedom(plain.slice(1))).toBe(0);
  });

  it.each([
    ["a tester with both poles shorted reads the leak as it is", "shorted", 500, 50e3],
    // V = 800 V, fault at 5 of 20: centroid at 200 V. I = G·(500 V + 200 V), so 500 V / I = 50 kΩ · 500/700.
    ["a tester on the negative pole is helped by the string's own voltage", "-", 500, (50e3 * 500) / 700],
    // I = G·(500 V − 600 V): the lit string overpowers the tester, which shows a negative resistance.
    ["a tester on the positive pole is overpowered by it", "+", 500, (50e3 * 500) / -100],
  ] as const)("%s", (_, from, testVoltage, shown) => {
    const readings = [volts("+", "-", 800), volts("-", "earth", 199), insulation(from, testVoltage, shown)];
    const { best } = tableOf(visitTo(20, readings), VOLTAGE);
    expect(Math.exp(-best.lnG) / 50e3).toBeGreaterThan(0.9);
    expect(Math.exp(-best.lnG) / 50e3).toBeLessThan(1.1);
  });

  it("lets a tester that shows less than its own floor stand for any hard fault", () => {
    const readings = [volts("+", "-", 800), volts("-", "earth", 400), insulation("shorted", 500, 1500)];
    const table = tableOf(visitTo(20, readings), VOLTAGE);
    lookUp(table, -Math.log(10), entry);
    expect(entry.peak).toBeGreaterThan(table.best.peak - 2);
    lookUp(table, -Math.log(100e3), entry);
    expect(entry.peak).toBeLessThan(table.best.peak - 30);
  });
});

describe("a table of readings of a size that no array has", () => {
  it("still has a best conductance, and a lowest one", () => {
    const accuracy = { reading: 1e-4, floor: 1e-3 };
    const [meter] = visitTo(200, []).instruments;
    const visit = {
      ...visitTo(200, [volts("+", "earth", 1)]),
      instruments: [{ ...meter!, accuracy }],
      conditions: { drift: 0.08 },
    } as unknown as Visit;
    const { best, lowestLnG } = tableOf(visit, { volts: 488_595_238, relativeSd: 0.012 });
    expect([best.peak, best.lnG, lowestLnG].every(Number.isFinite)).toBe(true);
  });
});
