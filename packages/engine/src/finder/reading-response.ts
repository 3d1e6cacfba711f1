import type { Bench } from "./instruments.ts";
import { DEFAULTS } from "./priors.ts";
import type { Reading } from "./visit.ts";

/** One reading as a row of the least squares, its instrument's figures filled in. */
export interface Row {
  readonly kind: "pm" | "minus" | "plus" | "leak-minus" | "leak-plus" | "leak";
  readonly value: number;
  /** Variance that does not depend on G. */
  readonly variance: number;
  readonly meterSiemens: number;
  readonly shuntSiemens: number;
  readonly meterTolerance: number;
  readonly testVolts: number;
  readonly floorOhms: number;
  readonly earth: PoleEarth;
}

/** Conductance that a functional earth adds to each pole [S]. */
export interface PoleEarth {
  readonly minus: number;
  readonly plus: number;
}
export const FLOATING: PoleEarth = { minus: 0, plus: 0 };

/** No reading is taken to be better than this, whatever its instrument claims (design choice). */
const FINEST = { reading: 1e-4, volts: 1e-3, tester: 1e-3 } as const;
/** An insulation tester that shows less has shown zero, one that shows more the end of its range. */
const TESTER_OHMS = { least: 1, most: 1e11 } as const;

export function rowOf(reading: Reading, bench: Bench, earth: PoleEarth = FLOATING): Row {
  const base = { earth, meterSiemens: 0, shuntSiemens: 0, meterTolerance: 0, testVolts: 0, floorOhms: 0 };
  if (reading.kind === "insulation") {
    const tester = bench.testers.get(reading.with)!;
    const size = Math.min(TESTER_OHMS.most, Math.max(TESTER_OHMS.least, Math.abs(reading.value)));
    const siemens = (reading.value < 0 ? -1 : 1) / size;
    const variance = (siemens * tester.reading) ** 2;
    const kind = reading.from === "shorted" ? "leak" : reading.from === "+" ? "leak-plus" : "leak-minus";
    const testVolts = Math.abs(reading.testVoltage) < 1 ? 1 : reading.testVoltage;
    return { ...base, kind, value: siemens, variance, testVolts, floorOhms: tester.floorOhms };
  }
  const meter = bench.meters.get(reading.with)!;
  // Independent gain, offset and light errors add in quadrature.
  const variance =
    (reading.value * Math.max(meter.reading, FINEST.reading)) ** 2 +
    Math.max(meter.floorVolts, FINEST.volts) ** 2 +
    (reading.value * bench.drift) ** 2;
  const kind = reading.to !== "earth" ? "pm" : reading.from === "-" ? "minus" : "plus";
  return {
    ...base,
    kind,
    value: reading.value,
    variance,
    meterSiemens: meter.inputSiemens,
    shuntSiemens: reading.shunt === undefined ? 0 : 1 / reading.shunt,
    meterTolerance: meter.inputTolerance,
  };
}

/** How one reading answers to the unknowns at a held G: value = constant + u·(…) + V·(…) + m·(…), plus extra variance. */
export interface Response {
  u: number;
  v: number;
  m: number;
  constant: number;
  extraVariance: number;
}

/** Fills `out` for a row; voltages in units of V0 so that the normal matrix is well scaled. */
export function respond(row: Row, G: number, V0: number, out: Response): void {
  out.u = out.v = out.m = out.constant = out.extraVariance = 0;
  if (row.kind === "pm") {
    out.v = V0;
    return;
  }
  const { minus, plus } = row.earth;
  if (row.kind === "minus" || row.kind === "plus") {
    const total = G + row.meterSiemens + row.shuntSiemens + minus + plus;
    const gain = V0 / total;
    out.u = row.kind === "minus" ? gain * G : -gain * G;
    out.v = row.kind === "minus" ? gain * plus : gain * (G + minus);
    // A reading scales with −δ·Gm/total when the meter's conductance is off by δ.
    out.m = (-row.value * row.meterSiemens) / total;
    out.extraVariance = ((row.value * DEFAULTS.shuntTolerance * row.shuntSiemens) / total) ** 2;
    return;
  }
  const all = G + minus + plus;
  out.constant = all;
  // The floor is an error in ohms: what is truly seen, S, reads 1/R with 1/R − S = (error/R)·S, however low R is. S is
  // all that leaks, or up to 1 + V/V_test times as much where the lit string helps the tester.
  const most = row.kind === "leak" ? all : all * (1 + V0 / Math.abs(row.testVolts));
  const seen = Math.min(most, Math.max(all, Math.abs(row.value)));
  out.extraVariance = (row.value * seen * row.floorOhms) ** 2 + (FINEST.tester * all) ** 2;
  if (row.kind === "leak") return;
  out.u = (G * V0) / row.testVolts;
  out.v = ((row.kind === "leak-plus" ? plus - all : plus) * V0) / row.testVolts;
}
