import { type Random, type Scenario, type ScenarioFault, linearModule } from "@earthbell/engine";

/** The stated world of the accuracy tables: 0.3 % + 0.1 V meter of 10 MΩ ± 1 %, 0.5 % mismatch, 0.4 % drift, three sub-strings. */
const WORLD = {
  wet: false,
  mismatch: 0.005,
  drift: 0.004,
  meter: { inputOhms: 10e6, inputTolerance: 0.01, reading: 0.003, floorV: 0.1 },
  tester: { reading: 0.03, floorOhms: 2e3, seriesOhms: 10e3 },
} as const;

export interface Drawn {
  readonly scenario: Scenario;
  /** What the first readings are taken on. */
  readonly on: string;
}

export function logUniform(random: Random, low: number, high: number): number {
  return low * Math.exp(random.uniform() * Math.log(high / low));
}

/** Uniform healthy leakage of 10 MΩ to 2 GΩ a module, log-uniform. */
function leakage(random: Random): number {
  return logUniform(random, 10e6, 2e9);
}

function modules(random: Random): number {
  return 10 + Math.floor(17 * random.uniform());
}

/** Every junction and every sub-string boundary alike. */
function anyPlace(random: Random, count: number): number {
  return Math.floor(random.uniform() * (3 * count + 1)) / 3;
}

export function oneString(random: Random, faultOhms: readonly [number, number] | null): Drawn {
  const count = modules(random);
  const string = { id: "S1", modules: count, module: linearModule(41), moduleLeakOhms: leakage(random) };
  const faults: ScenarioFault[] =
    faultOhms === null
      ? []
      : [{ string: "S1", at: anyPlace(random, count), ohms: logUniform(random, ...faultOhms) }];
  return { scenario: { ...WORLD, strings: [string], faults }, on: "S1" };
}

export function twoFaults(random: Random): Drawn {
  const { scenario } = oneString(random, null);
  const count = scenario.strings[0]!.modules;
  const first = anyPlace(random, count);
  let second = anyPlace(random, count);
  while (Math.abs(second - first) < 1) second = anyPlace(random, count);
  const ohms = logUniform(random, 1e3, 200e3);
  const ratio = logUniform(random, 0.2, 5);
  const faults: ScenarioFault[] = [
    { string: "S1", at: first, ohms },
    { string: "S1", at: second, ohms: ohms * ratio },
  ];
  return { scenario: { ...scenario, faults }, on: "S1" };
}

export function paralleled(random: Random, faultOhms: readonly [number, number]): Drawn {
  const strings = 2 + Math.floor(23 * random.uniform());
  const count = modules(random);
  const leak = leakage(random);
  const ids = Array.from({ length: strings }, (_, i) => `S${String(i + 1)}`);
  const faulty = ids[Math.floor(random.uniform() * strings)]!;
  return {
    scenario: {
      ...WORLD,
      strings: ids.map((id) => ({ id, modules: count, module: linearModule(41), moduleLeakOhms: leak })),
      circuits: [{ id: "C1", strings: ids }],
      faults: [{ string: faulty, at: anyPlace(random, count), ohms: logUniform(random, ...faultOhms) }],
    },
    on: "C1",
  };
}
