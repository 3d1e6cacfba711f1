import type { Random } from "./random.ts";
import { linearModule, type Scenario, type ScenarioEarth, type ScenarioFault } from "./scenario.ts";

/** Kinds of array and damage that can be drawn for practice, tests and accuracy tables. */
export const SIMULATED_KINDS = {
  hard: "one fault of 10 Ω to 20 kΩ in one string",
  soft: "one fault of 20 kΩ to 1.6 MΩ in one string",
  two: "two faults in one string",
  none: "a sound string",
  wet: "one fault of 10 kΩ to 200 kΩ in a string whose modules are wet and leak unevenly",
  paralleled: "2 to 24 strings in parallel, one fault of 10 Ω to 20 kΩ",
  "paralleled-soft": "2 to 24 strings in parallel, one fault of 20 kΩ to 1.6 MΩ",
  clamped: "as paralleled, with a leakage clamp in the bag",
  earthed:
    "a functionally earthed string or circuit, the earth opened for the measuring, one fault of 10 Ω to 200 kΩ",
  "earthed-resistor": "the same with the earth closed through 5 kΩ to 100 kΩ while it is measured",
  "earthed-fuse": "the same with the earth closed through a fuse: nothing can be told until it is opened",
} as const;
export type SimulatedKind = keyof typeof SIMULATED_KINDS;

export interface DrawnScenario {
  readonly scenario: Scenario;
  /** What the first readings are taken on. */
  readonly on: string;
}

/** The stated world: meter 0.3 % + 0.1 V of 10 MΩ ± 1 %, mismatch 0.5 %, drift 0.4 % a reading (design choice). */
export const WORLD = {
  wet: false,
  mismatch: 0.005,
  drift: 0.004,
  meter: { inputOhms: 10e6, inputTolerance: 0.01, reading: 0.003, floorV: 0.1 },
  tester: { reading: 0.03, floorOhms: 2e3, seriesOhms: 10e3 },
} as const;
export const MODULE_VOLTS = 41;

export function drawScenario(kind: SimulatedKind, random: Random): DrawnScenario {
  switch (kind) {
    case "hard":
      return oneString(random, [10, 20e3]);
    case "soft":
      return oneString(random, [20e3, 1.6e6]);
    case "none":
      return oneString(random, null);
    case "two":
      return twoFaults(random);
    case "wet":
      return wetString(random);
    case "paralleled":
      return paralleled(random, [10, 20e3]);
    case "paralleled-soft":
      return paralleled(random, [20e3, 1.6e6]);
    case "clamped":
      return withClamp(paralleled(random, [10, 20e3]));
    case "earthed":
      return earthed(random, random.uniform() < 0.5 ? "fuse" : "resistor", true);
    case "earthed-resistor":
      return earthed(random, "resistor", false);
    case "earthed-fuse":
      return earthed(random, "fuse", false);
  }
}

/** 10 to 26 modules of three sub-strings, even healthy leakage of 10 MΩ to 2 GΩ a module, at most one fault anywhere. */
export function oneString(random: Random, faultOhms: readonly [number, number] | null): DrawnScenario {
  const modules = drawModules(random);
  const string = {
    id: "S1",
    modules,
    module: linearModule(MODULE_VOLTS),
    moduleLeakOhms: drawLeakage(random),
  };
  const fault = (): ScenarioFault => ({
    string: "S1",
    at: anyPlace(random, modules),
    ohms: logUniform(random, ...faultOhms!),
  });
  return { scenario: { ...WORLD, strings: [string], faults: faultOhms === null ? [] : [fault()] }, on: "S1" };
}

/** Two faults at least a module apart, their resistances within a factor of five. */
export function twoFaults(random: Random): DrawnScenario {
  const { scenario, on } = oneString(random, null);
  const { modules } = scenario.strings[0]!;
  const first = anyPlace(random, modules);
  let second = anyPlace(random, modules);
  while (Math.abs(second - first) < 1) second = anyPlace(random, modules);
  const ohms = logUniform(random, 1e3, 200e3);
  const faults: ScenarioFault[] = [
    { string: "S1", at: first, ohms },
    { string: "S1", at: second, ohms: ohms * logUniform(random, 0.2, 5) },
  ];
  return { scenario: { ...scenario, faults }, on };
}

function wetString(random: Random): DrawnScenario {
  const { scenario, on } = oneString(random, [10e3, 200e3]);
  const level = logUniform(random, 3e6, 50e6);
  const strings = scenario.strings.map((string) => ({
    ...string,
    moduleLeakOhms: Array.from({ length: string.modules }, () => level * Math.exp(0.5 * random.normal())),
  }));
  return { scenario: { ...scenario, strings, wet: true }, on };
}

/** Strings alike in length and leakage, one of them with one fault. */
export function paralleled(random: Random, faultOhms: readonly [number, number]): DrawnScenario {
  const count = 2 + Math.floor(23 * random.uniform());
  const modules = drawModules(random);
  const moduleLeakOhms = drawLeakage(random);
  const ids = Array.from({ length: count }, (_, i) => `S${String(i + 1)}`);
  const string = ids[Math.floor(random.uniform() * count)]!;
  return {
    scenario: {
      ...WORLD,
      strings: ids.map((id) => ({ id, modules, module: linearModule(MODULE_VOLTS), moduleLeakOhms })),
      circuits: [{ id: "C1", strings: ids }],
      faults: [{ string, at: anyPlace(random, modules), ohms: logUniform(random, ...faultOhms) }],
    },
    on: "C1",
  };
}

/** The same with a leakage clamp of 2 % and 0.1 mA [design choice, a usual instrument] among the instruments. */
export function withClamp({ scenario, on }: DrawnScenario): DrawnScenario {
  return { scenario: { ...scenario, clamp: { reading: 0.02, floorA: 0.1e-3 } }, on };
}

/** One string or a circuit, one of its poles led to earth through a fuse of some tenths of an ohm or a resistor. */
export function earthed(random: Random, through: ScenarioEarth["through"], opened: boolean): DrawnScenario {
  const faultOhms = [10, 200e3] as const;
  const { scenario, on } =
    random.uniform() < 0.5 ? oneString(random, faultOhms) : paralleled(random, faultOhms);
  const pole = random.uniform() < 0.5 ? "-" : "+";
  const ohms = through === "fuse" ? logUniform(random, 0.05, 0.5) : logUniform(random, 5e3, 100e3);
  return { scenario: { ...scenario, functionalEarth: { on, pole, through, ohms, opened } }, on };
}

function logUniform(random: Random, low: number, high: number): number {
  return low * Math.exp(random.uniform() * Math.log(high / low));
}

function drawLeakage(random: Random): number {
  return logUniform(random, 10e6, 2e9);
}

function drawModules(random: Random): number {
  return 10 + Math.floor(17 * random.uniform());
}

/** Every junction and every sub-string boundary alike. */
function anyPlace(random: Random, modules: number): number {
  return Math.floor(random.uniform() * (3 * modules + 1)) / 3;
}
