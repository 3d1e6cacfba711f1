import {
  type AlarmLoop,
  type ContactRating,
  designLoop,
  type LoopDesign,
  supervisionBands,
} from "@earthbell/engine";
import { beforeAll, describe, expect, it } from "vitest";
import { solveWithNgspice, type SpiceCircuit } from "../circuit-ngspice/ngspice.ts";
import cases from "./cases.json" with { type: "json" };

type Case = (typeof cases)[number];

const TOLERANCE = 0.05;
const LEAK_OHMS = 100_000;
const CONTACT_OHMS = 0.1;

const contact = { voltage: 30, current: 1 } as unknown as ContactRating;

function designed(one: Case): LoopDesign {
  const { supplyV, endV, areaMm2, lengthM, celsius, amperes, leastV, sense } = one;
  const cable = {
    area: areaMm2,
    class: one.class,
    tinned: one.tinned ?? false,
    length: lengthM,
    temperature: celsius,
  };
  const load = { kind: "sounder", current: amperes, minimumVoltage: leastV };
  const loop = {
    supply: supplyV,
    supplyMinimum: endV,
    battery: 24,
    quiescentCurrent: 0.02,
    cable,
    load,
    fuse: 0.63,
    sense,
  };
  return designLoop({ loop: loop as unknown as AlarmLoop, contact });
}

/** One core, from the printed resistance at 20 °C. */
const coreOhms = ({ ohmsPerKm, lengthM, celsius }: Case): number =>
  (ohmsPerKm / 1000) * lengthM * (1 + 0.00393 * (celsius - 20));

function alarmCircuit(one: Case, id: string): SpiceCircuit {
  const { endOfLine } = designed(one);
  const core = coreOhms(one);
  const elements = [
    `vs_${id} s_${id} 0 dc ${one.endV}`,
    `rk_${id} s_${id} k_${id} ${CONTACT_OHMS}`,
    `ro_${id} k_${id} a_${id} ${core}`,
    `rb_${id} b_${id} 0 ${core}`,
    `il_${id} a_${id} b_${id} dc ${one.amperes}`,
    ...(endOfLine === null ? [] : [`re_${id} a_${id} b_${id} ${endOfLine.ohms}`]),
  ];
  return { id, elements, wanted: [`v(a_${id})-v(b_${id})`, `i(vs_${id})`] };
}

interface Extreme {
  readonly state: "short" | "normal" | "open";
  readonly end: "lowV" | "highV";
  readonly supplyV: number;
  readonly seriesShare: number;
  readonly endShare: number | "short" | "open";
  readonly leaks: boolean;
  readonly hotCable: boolean;
}

/** The corner of tolerances that gives each end of each band. */
const extremes = (one: Case): readonly Extreme[] => {
  const low = { supplyV: one.endV, seriesShare: 1 + TOLERANCE };
  const high = { supplyV: 1.15 * one.supplyV, seriesShare: 1 - TOLERANCE };
  return [
    { state: "short", end: "highV", ...high, endShare: "short", leaks: false, hotCable: true },
    { state: "normal", end: "lowV", ...low, endShare: 1 - TOLERANCE, leaks: true, hotCable: false },
    { state: "normal", end: "highV", ...high, endShare: 1 + TOLERANCE, leaks: false, hotCable: true },
    { state: "open", end: "lowV", ...low, endShare: "open", leaks: true, hotCable: false },
  ];
};

function lineCircuit(one: Case, id: string, ohms: number, extreme: Extreme): SpiceCircuit {
  const core = extreme.hotCable ? coreOhms(one) : 1e-6;
  const far =
    extreme.endShare === "short" ? 1e-6 : extreme.endShare === "open" ? 1e15 : ohms * extreme.endShare;
  const elements = [
    `vs_${id} s_${id} 0 dc ${extreme.supplyV}`,
    `rs_${id} s_${id} p_${id} ${ohms * extreme.seriesShare}`,
    `ro_${id} p_${id} a_${id} ${core}`,
    `rb_${id} b_${id} 0 ${core}`,
    `re_${id} a_${id} b_${id} ${far}`,
    ...(extreme.leaks ? [`rl_${id} a_${id} b_${id} ${LEAK_OHMS}`] : []),
  ];
  return { id, elements, wanted: [`v(p_${id})`] };
}

let spice: ReadonlyMap<string, readonly number[]>;

beforeAll(async () => {
  const alarms = cases.map((one, c) => alarmCircuit(one, `c${c}`));
  const lines = cases.flatMap((one, c) => {
    const { endOfLine } = designed(one);
    if (endOfLine === null) return [];
    return extremes(one).map((extreme, e) => lineCircuit(one, `c${c}e${e}`, endOfLine.ohms, extreme));
  });
  spice = await solveWithNgspice([...alarms, ...lines]);
});

const expectWithin = (ours: number, theirs: number): void => {
  expect(Math.abs(ours - theirs)).toBeLessThanOrEqual(1e-3 * Math.abs(theirs) + 1e-6);
};

describe.each(cases.map((one, c) => [one.name, one, c] as const))("%s", (_, one, c) => {
  const design = designed(one);

  it("needs no other cable, so that ngspice solves the loop as given", () => {
    expect(design.loop.cable!.area).toBe(one.areaMm2);
    expect(design.unsolved).toEqual([]);
  });

  it("gives the load the voltage ngspice finds", () => {
    const [loadV, supplyA] = spice.get(`c${c}`)!;
    expectWithin(design.figures!.loadVoltage, loadV!);
    expectWithin((one.endV - design.figures!.loadVoltage) / design.figures!.loopOhms, Math.abs(supplyA!));
  });

  it("tells the states of the line apart where ngspice puts them, or needs no end-of-line resistor", () => {
    if (design.endOfLine === null) {
      expect(one.sense).toBe("de-energise-to-alarm");
      return;
    }
    const { ohms, bands } = design.endOfLine;
    const cable = 2 * coreOhms(one);
    const again = supervisionBands(ohms, ohms, {
      lowestV: one.endV,
      highestV: 1.15 * one.supplyV,
      cableOhms: cable,
    });
    extremes(one).forEach(({ state, end }, e) => {
      const [theirs] = spice.get(`c${c}e${e}`)!;
      expectWithin(bands.find((band) => band.state === state)![end], theirs!);
      expectWithin(again.find((band) => band.state === state)![end], theirs!);
    });
    expect(bands[0]!.highV).toBeLessThan(bands[1]!.lowV);
    expect(bands[1]!.highV).toBeLessThan(bands[2]!.lowV);
  });
});
