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
export interface ClampModel {
  readonly reading: number;
  readonly floorAmperes: number;
}
export interface Bench {
  readonly meters: ReadonlyMap<string, MeterModel>;
  readonly testers: ReadonlyMap<string, TesterModel>;
  readonly clamps: ReadonlyMap<string, ClampModel>;
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
  const clamps = new Map<string, ClampModel>();
  for (const instrument of [...visit.instruments, ...unnamedInstruments(visit)]) {
    if (instrument.kind === "voltmeter") meters.set(instrument.name, meterModel(instrument, warnings));
    else if (instrument.kind === "leakage-clamp")
      clamps.set(instrument.name, clampModel(instrument, warnings));
    else testers.set(instrument.name, testerModel(instrument, warnings));
  }
  if (visit.conditions.mismatch === undefined)
    warnings.push("mismatch of module voltages not given: 0.5 % assumed");
  if (visit.conditions.drift === undefined)
    warnings.push("drift of light and temperature between readings not given: 1 % assumed");
  if (visit.conditions.wet === undefined) warnings.push("not said whether the array was wet: dry assumed");
  return {
    meters,
    testers,
    clamps,
    mismatch: visit.conditions.mismatch ?? DEFAULTS.mismatch,
    drift: visit.conditions.drift ?? DEFAULTS.drift,
    wet: visit.conditions.wet ?? false,
    warnings,
  };
}

/** Instruments that readings name and the visit does not describe: what kind they are follows from the reading. */
function unnamedInstruments(visit: Visit): Instrument[] {
  const kinds = { voltage: "voltmeter", insulation: "insulation-tester", leakage: "leakage-clamp" } as const;
  const known = new Set(visit.instruments.map(({ name }) => name));
  const unnamed = new Map<string, Instrument>();
  for (const reading of visit.readings)
    if (!known.has(reading.with))
      unnamed.set(reading.with, { name: reading.with, kind: kinds[reading.kind] });
  return [...unnamed.values()];
}

function clampModel(clamp: Extract<Instrument, { kind: "leakage-clamp" }>, warnings: string[]): ClampModel {
  if (clamp.accuracy?.reading === undefined || clamp.accuracy.floor === undefined)
    warnings.push(
      `${clamp.name}: accuracy not given in full: 2 % of reading and 0.1 mA assumed for what is missing`,
    );
  return {
    reading: clamp.accuracy?.reading ?? DEFAULTS.clampReading,
    floorAmperes: clamp.accuracy?.floor ?? DEFAULTS.clampFloorAmperes,
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
  tester: Extract<Instrument, { kind: "insulation-tester" | "insulation-monitor" }>,
  warnings: string[],
): TesterModel {
  const usual = tester.kind === "insulation-monitor" ? DEFAULTS.monitorReading : DEFAULTS.testerReading;
  if (tester.accuracy?.reading === undefined || tester.accuracy.floor === undefined)
    warnings.push(
      `${tester.name}: accuracy not given in full: ${String(100 * usual)} % of reading and 2 kΩ assumed for what is missing`,
    );
  return {
    reading: tester.accuracy?.reading ?? usual,
    floorOhms: tester.accuracy?.floor ?? DEFAULTS.testerFloorOhms,
  };
}
