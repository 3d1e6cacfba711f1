import {
  parallelCircuit,
  seededRandom,
  solveArray,
  stringCircuit,
  voltmeterReadsV,
  type ArrayDescription,
  type ArrayFault,
  type ArrayInstrument,
  type ArrayString,
  type FloatingCircuit,
  type ModuleSource,
  type Pole,
} from "@earthbell/engine";
import { arrayNetlist } from "./array-netlist.ts";
import { ngspiceVersion, solveWithNgspice } from "./ngspice.ts";

/** One way in which an array departs from what the closed forms assume, at one size. */
interface Departure {
  readonly table: string;
  readonly size: string;
  readonly array: ArrayDescription;
  readonly shuntOhms?: number;
  /** What the closed forms are given: the voltages that a person could know. */
  readonly closed: FloatingCircuit;
  readonly modules: number;
}

/** Measured against ngspice: how far the closed form is off. */
export interface Limit {
  readonly table: string;
  readonly size: string;
  /** Largest error of the two pole readings, as a percentage of the open-circuit voltage. */
  readonly readingPercent: number;
  /** Place by the proportion of the readings as ngspice gives them, minus as the closed form gives them [modules]. */
  readonly placeModules: number;
  /** Largest difference between our nodal analysis and ngspice, as a percentage of the open-circuit voltage. */
  readonly networkPercent: number;
}

export const LIMITS_SEED = 7;
const MODULES = 20;
const FAULT_AT = 7;
const METER_OHMS = 1e7;
const LEAK_S = Array.from({ length: MODULES }, () => 1 / 2e9);

/** 36.9 V, 9 A class module with three bypass diodes [design choice: figures of the size usual for crystalline modules]. */
const MODULE = {
  kind: "single-diode",
  lightA: 9,
  saturationA: 2e-8,
  slopeV: 1.85,
  seriesOhms: 0.35,
  shuntOhms: 300,
  bypass: { saturationA: 1e-6, slopeV: 0.04 },
} as const satisfies ModuleSource;

/** Solves every departure with ngspice and with us. */
export async function measureLimits(): Promise<{
  readonly ngspice: string;
  readonly limits: readonly Limit[];
}> {
  const departures = [
    ...unlikeModules(),
    ...unlikeStrings(),
    ...shadedStrings(),
    ...lowShunts(),
    ...twoFaults(),
  ];
  const poles = ["-", "+"] as const;
  const circuits = departures.flatMap((departure, index) =>
    poles.map((pole) =>
      arrayNetlist(`d${index}${pole === "-" ? "n" : "p"}`, departure.array, meter(departure, pole), [
        { kind: "reading" },
      ]),
    ),
  );
  const spice = await solveWithNgspice(circuits);
  const limits = departures.map((departure, index): Limit => {
    const truth = { "-": spice.get(`d${index}n`)![0]!, "+": spice.get(`d${index}p`)![0]! };
    return limitOf(departure, truth);
  });
  return { ngspice: await ngspiceVersion(), limits };
}

function limitOf(departure: Departure, truth: Readonly<Record<Pole, number>>): Limit {
  const { table, size, closed, array, modules, shuntOhms } = departure;
  const model = (terminal: Pole): number =>
    voltmeterReadsV(closed, {
      terminal,
      inputOhms: METER_OHMS,
      ...(shuntOhms === undefined ? {} : { shuntOhms }),
    });
  const network = (terminal: Pole): number => solveArray(array, meter(departure, terminal)).reading!;
  const percent = (of: (terminal: Pole) => number): number =>
    (100 * Math.max(Math.abs(of("-") - truth["-"]), Math.abs(of("+") - truth["+"]))) / closed.openCircuitV;
  const place = (low: number, high: number): number =>
    (modules * Math.abs(low)) / (Math.abs(low) + Math.abs(high));
  return {
    table,
    size,
    readingPercent: percent(model),
    placeModules: place(truth["-"], truth["+"]) - place(model("-"), model("+")),
    networkPercent: percent(network),
  };
}

function meter({ shuntOhms }: Departure, pole: Pole): ArrayInstrument {
  const base = { kind: "voltmeter", from: { bus: pole }, to: "earth", inputOhms: METER_OHMS } as const;
  return shuntOhms === undefined ? base : { ...base, shuntOhms };
}

const scaled = (ratio: number): ModuleSource => ({
  ...MODULE,
  slopeV: MODULE.slopeV * ratio,
  seriesOhms: MODULE.seriesOhms * ratio,
  shuntOhms: MODULE.shuntOhms * ratio,
});
const inLight = (ratio: number): ModuleSource => ({ ...MODULE, lightA: MODULE.lightA * ratio });

function wired(id: string, moduleOf: (module: number) => ModuleSource): ArrayString {
  const modules = Array.from({ length: MODULES }, (_, module) => moduleOf(module));
  return { id, modules, substrings: 3, moduleLeaksS: LEAK_S };
}

const fault = (string: string, ohms: number, at = FAULT_AT): ArrayFault => ({ place: { string, at }, ohms });

/** The closed form of one string whose modules are taken as equal, with a given sum of voltages. */
function assumedEqual(
  openCircuitV: number,
  faults: readonly { readonly at: number; readonly ohms: number }[],
): FloatingCircuit {
  const moduleVocsV = Array.from({ length: MODULES }, () => openCircuitV / MODULES);
  return stringCircuit({ moduleVocsV, moduleLeaksS: LEAK_S, faults });
}

/** Open-circuit voltage between a string's poles, as a meter across them finds it before the visit's other readings. */
function measuredVoc(string: ArrayString): number {
  const across = { kind: "voltmeter", from: { bus: "+" }, to: { bus: "-" }, inputOhms: METER_OHMS } as const;
  return solveArray({ strings: [string], faults: [] }, across).reading!;
}

/** One string at open circuit whose modules differ, read as if they were equal. */
function unlikeModules(): Departure[] {
  const random = seededRandom(LIMITS_SEED);
  const one = (table: string, size: string, string: ArrayString): Departure => {
    const array = { strings: [string], faults: [fault("A", 5e4)] };
    const closed = assumedEqual(measuredVoc(string), [{ at: FAULT_AT, ohms: 5e4 }]);
    return { table, size, array, closed, modules: MODULES };
  };
  const scatter = [0, 0.1, 0.5, 1, 2, 5].map((percent) => {
    const ratios = Array.from({ length: MODULES }, () => 1 + (percent / 100) * random.normal());
    const string = wired("A", (module) => scaled(ratios[module]!));
    return one(
      "one string, module voltages scattered (one draw; standard deviation)",
      `${percent} %`,
      string,
    );
  });
  const upperHalf = [1, 0.8, 0.5, 0.2, 0.1, 0.05].map((light) =>
    one(
      "one string, upper half of the modules in less light",
      `${100 * light} % of the light`,
      wired("A", (module) => inLight(module >= MODULES / 2 ? light : 1)),
    ),
  );
  return [...scatter, ...upperHalf];
}

function inParallel(
  table: string,
  size: string,
  odd: ArrayString,
  others: readonly ArrayString[],
): Departure {
  const closedOf = (string: ArrayString): FloatingCircuit =>
    assumedEqual(measuredVoc(string), string === odd ? [{ at: FAULT_AT, ohms: 5e4 }] : []);
  const closed = parallelCircuit([odd, ...others].map(closedOf));
  const array = { strings: [odd, ...others], faults: [fault(odd.id, 5e4)] };
  return { table, size, array, closed, modules: MODULES };
}

/** Three sound strings beside the damaged one; one bypass diode a module keeps the network small. */
const SOUND = ["B", "C", "D"].map((id): ArrayString => ({ ...wired(id, () => MODULE), substrings: 1 }));
const damaged = (moduleOf: (module: number) => ModuleSource): ArrayString => ({
  ...wired("A", moduleOf),
  substrings: 1,
});

/** Parallel strings, the damaged one lower in voltage (warmer, another make). */
function unlikeStrings(): Departure[] {
  return [0, 0.1, 0.5, 1, 2, 5, 10].map((percent) =>
    inParallel(
      "4 strings in parallel, the damaged one lower in voltage, its modules alike",
      `${percent} %`,
      damaged(() => scaled(1 - percent / 100)),
      SOUND,
    ),
  );
}

/** Parallel strings, the damaged one in shade: all of it, or its uppermost modules. */
function shadedStrings(): Departure[] {
  const whole = [0.8, 0.5, 0.2, 0.1, 0.05].map((light) =>
    inParallel(
      "4 strings in parallel, the damaged one in less light, its modules alike",
      `${100 * light} % of the light`,
      damaged(() => inLight(light)),
      SOUND,
    ),
  );
  const part = [1, 2, 4, 8].map((count) =>
    inParallel(
      "4 strings in parallel, uppermost modules of the damaged one at 5 % of the light",
      `${count} of ${MODULES} modules`,
      damaged((module) => inLight(module >= MODULES - count ? 0.05 : 1)),
      SOUND,
    ),
  );
  return [...whole, ...part];
}

/** A hard fault read with a small shunt: the string then carries current and its source resistance shows. */
function lowShunts(): Departure[] {
  return [1e6, 1e5, 1e4, 1e3, 300].map((shuntOhms) => {
    const string = wired("A", () => MODULE);
    const array = { strings: [string], faults: [fault("A", 100)] };
    const closed = assumedEqual(measuredVoc(string), [{ at: FAULT_AT, ohms: 100 }]);
    return {
      table: "one string, 100 Ω fault read with a shunt",
      size: `${shuntOhms} Ω shunt`,
      array,
      closed,
      shuntOhms,
      modules: MODULES,
    };
  });
}

/** Two faults that drive current through earth round the modules between them. */
function twoFaults(): Departure[] {
  return [1e5, 1e4, 1e3, 300, 100, 30].map((ohms) => {
    const string = wired("A", () => MODULE);
    const faults = [fault("A", ohms, 5), fault("A", 3 * ohms, 15)];
    const closed = assumedEqual(measuredVoc(string), [
      { at: 5, ohms },
      { at: 15, ohms: 3 * ohms },
    ]);
    return {
      table: "one string, two faults at 5 and 15, the upper three times softer",
      size: `${ohms} Ω`,
      array: { strings: [string], faults },
      closed,
      modules: MODULES,
    };
  });
}
