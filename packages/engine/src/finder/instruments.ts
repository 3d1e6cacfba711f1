import { DEFAULTS } from "./priors.ts";
import type { Instrument, Visit } from "./visit.ts";

/** A voltmeter with every figure filled in; a figure that was not given is named in the warnings. */
export interface MeterModel {
  readonly inputSiemens: number;
  readonly inputTolerance: number;
  readonly reading: number;
  readonly floorVolts: number;
}
export interface TesterModel {
  readonly reading: number;
  readonly floorOhms: number;
}
export interface Bench {
  readonly meters: ReadonlyMap<string, MeterModel>;
  readonly testers: ReadonlyMap<string, TesterModel>;
  readonly mismatch: number;
  readonly drift: number;
  readonly wet: boolean;
  readonly warnings: readonly string[];
}

/** The instruments and conditions of a visit with the stated defaults filled in, each default said aloud. */
export function benchOf(visit: Visit): Bench {
  const warnings: string[] = [];
  const meters = new Map<string, MeterModel>();
  const testers = new Map<string, TesterModel>();
  for (const instrument of visit.instruments) {
    if (instrument.kind === "voltmeter") meters.set(instrument.name, meterModel(instrument, warnings));
    else testers.set(instrument.name, testerModel(instrument, warnings));
  }
  for (const reading of visit.readings) {
    const known = meters.has(reading.with) || testers.has(reading.with);
    if (known) continue;
    if (reading.kind === "voltage")
      meters.set(reading.with, meterModel({ name: reading.with, kind: "voltmeter" }, warnings));
    else testers.set(reading.with, testerModel({ name: reading.with, kind: "insulation-tester" }, warnings));
  }
  if (visit.conditions.mismatch === undefined)
    warnings.push("mismatch of module voltages not given: 0.5 % assumed");
  if (visit.conditions.drift === undefined)
    warnings.push("drift of light and temperature between readings not given: 1 % assumed");
  if (visit.conditions.wet === undefined) warnings.push("not said whether the array was wet: dry assumed");
  return {
    meters,
    testers,
    mismatch: visit.conditions.mismatch ?? DEFAULTS.mismatch,
    drift: visit.conditions.drift ?? DEFAULTS.drift,
    wet: visit.conditions.wet ?? false,
    warnings,
  };
}

function meterModel(meter: Extract<Instrument, { kind: "voltmeter" }>, warnings: string[]): MeterModel {
  if (meter.inputResistance === undefined)
    warnings.push(`${meter.name}: input resistance not given: 10 MΩ assumed`);
  if (meter.accuracy?.reading === undefined || meter.accuracy.floor === undefined)
    warnings.push(
      `${meter.name}: accuracy not given in full: 0.5 % of reading and 0.2 V assumed for what is missing`,
    );
  return {
    inputSiemens: 1 / (meter.inputResistance ?? DEFAULTS.meterInputOhms),
    inputTolerance: meter.inputTolerance ?? DEFAULTS.meterInputTolerance,
    reading: meter.accuracy?.reading ?? DEFAULTS.meterReading,
    floorVolts: meter.accuracy?.floor ?? DEFAULTS.meterFloorVolts,
  };
}

function testerModel(
  tester: Extract<Instrument, { kind: "insulation-tester" }>,
  warnings: string[],
): TesterModel {
  if (tester.accuracy?.reading === undefined || tester.accuracy.floor === undefined)
    warnings.push(
      `${tester.name}: accuracy not given in full: 5 % of reading and 2 kΩ assumed for what is missing`,
    );
  return {
    reading: tester.accuracy?.reading ?? DEFAULTS.testerReading,
    floorOhms: tester.accuracy?.floor ?? DEFAULTS.testerFloorOhms,
  };
}
