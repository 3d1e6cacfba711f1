import { describe, expect, it } from "vitest";
import {
  EARTH,
  floatingCircuit,
  knownResistorMethod,
  knownResistorSpread,
  solveArray,
  solveNetwork,
  stringCircuit,
  switchedPairMethod,
  terminalPotentialV,
  testerReads,
  voltmeterReadsV,
  withTerminalLeak,
  type ArrayDescription,
  type ArrayInstrument,
  type FloatingCircuit,
  type Pole,
} from "@earthbell/engine";
import cases from "./cases.json" with { type: "json" };

const { modules, moduleV, meterOhms } = cases.floatingString;
const openCircuitV = modules * moduleV;
type Fault = { readonly at: number; readonly ohms: number };

function closedForm(faults: readonly Fault[], moduleLeakOhms = Infinity): FloatingCircuit {
  const each = <Value>(value: Value): Value[] => Array.from({ length: modules }, () => value);
  return stringCircuit({ moduleVocsV: each(moduleV), moduleLeaksS: each(1 / moduleLeakOhms), faults });
}

function network(faults: readonly Fault[], moduleLeakOhms = Infinity): ArrayDescription {
  return {
    strings: [
      {
        id: "S",
        modules: Array.from({ length: modules }, () => ({
          kind: "linear",
          openCircuitV: moduleV,
          sourceOhms: 0,
        })),
        moduleLeaksS: Array.from({ length: modules }, () => 1 / moduleLeakOhms),
      },
    ],
    faults: faults.map(({ at, ohms }) => ({ place: { string: "S", at }, ohms })),
  };
}

const meterAt = (pole: Pole): ArrayInstrument => ({
  kind: "voltmeter",
  from: { bus: pole },
  to: "earth",
  inputOhms: meterOhms,
});

/** Both models against a printed value, to a relative 1e-8 or half its last printed digit. */
function expectBoth(closed: number, net: number, printed: number, halfDigit = 5e-9): void {
  const allowed = Math.max(1e-8 * Math.abs(printed), halfDigit);
  expect(Math.abs(closed - printed)).toBeLessThanOrEqual(allowed);
  expect(Math.abs(net - printed)).toBeLessThanOrEqual(allowed);
}

describe("one fault on a floating string [computed outside: ngspice 39.3 and closed form]", () => {
  const { oneFault, withHealthyLeakage } = cases.floatingString;
  const faults = [{ at: oneFault.at, ohms: oneFault.faultOhms }];

  it("pole readings through a 10 MΩ meter, and without it", () => {
    const circuit = closedForm(faults);
    for (const [pole, printed, ideal] of [
      ["+", oneFault.positiveV, oneFault.idealPositiveV],
      ["-", oneFault.negativeV, oneFault.idealNegativeV],
    ] as const) {
      const closed = voltmeterReadsV(circuit, { terminal: pole, inputOhms: meterOhms });
      expectBoth(closed, solveArray(network(faults), meterAt(pole)).reading!, printed);
      expectBoth(
        terminalPotentialV(circuit, pole),
        solveArray(network(faults)).potentialV({ bus: pole }),
        ideal,
      );
    }
  });

  it.each(withHealthyLeakage.rows)("$faultOhms Ω beside healthy leakage shows $place", (row) => {
    const all = [{ at: withHealthyLeakage.at, ohms: row.faultOhms }];
    const circuit = closedForm(all, withHealthyLeakage.moduleLeakOhms);
    const array = network(all, withHealthyLeakage.moduleLeakOhms);
    const read = (terminal: Pole): number => voltmeterReadsV(circuit, { terminal, inputOhms: meterOhms });
    expectBoth(read("+"), solveArray(array, meterAt("+")).reading!, row.positiveV);
    expectBoth(read("-"), solveArray(array, meterAt("-")).reading!, row.negativeV);
    expect(Math.abs(1 / circuit.leakS - row.isolationOhms)).toBeLessThanOrEqual(5);
    const place = (modules * Math.abs(read("-"))) / (Math.abs(read("-")) + read("+"));
    expect(Math.abs(place - row.place)).toBeLessThanOrEqual(0.00005);
  });

  it("healthy leakage draws the place to mid-string by (N/2 − x)·R_f/(R_f + R_healthy)", () => {
    const { moduleLeakOhms, at, biasAt2MOhm } = withHealthyLeakage;
    const healthyOhms = moduleLeakOhms / modules;
    for (const { faultOhms } of withHealthyLeakage.rows) {
      const place = closedForm([{ at, ohms: faultOhms }], moduleLeakOhms).centroidV / moduleV;
      const bias = ((modules / 2 - at) * faultOhms) / (faultOhms + healthyOhms);
      expect(place - at).toBeCloseTo(bias, 10);
      if (faultOhms === 2e6) expect(Math.abs(bias - biasAt2MOhm)).toBeLessThanOrEqual(0.00005);
    }
  });
});

describe("a known resistor on the string [computed outside; UN R100 Annex 4B for the pole's own resistance]", () => {
  const { shunted } = cases.floatingString;
  const faults = [{ at: shunted.at, ohms: shunted.faultOhms }];
  const metered = withTerminalLeak(closedForm(faults), "-", 1 / meterOhms);

  it.each(shunted.rows)(
    "meter on −, shunt on $shuntAt",
    ({ shuntAt, negativeV, positiveV, parallelOhms }) => {
      const pole = shuntAt as Pole | null;
      const circuit = pole === null ? metered : withTerminalLeak(metered, pole, 1 / shunted.shuntOhms);
      const array: ArrayDescription = {
        ...network(faults),
        ...(pole === null ? {} : { earthing: { pole, ohms: shunted.shuntOhms } }),
      };
      const solved = solveArray(array, meterAt("-"));
      expectBoth(terminalPotentialV(circuit, "-"), solved.potentialV({ bus: "-" }), negativeV);
      expectBoth(terminalPotentialV(circuit, "+"), solved.potentialV({ bus: "+" }), positiveV);
      expect(Math.abs(1 / circuit.leakS - parallelOhms)).toBeLessThanOrEqual(0.05);
    },
  );

  it("its two shunt states, taken as a switched pair, give the leak with the meter in it", () => {
    const [plain, atPositive, atNegative] = shunted.rows;
    const found = switchedPairMethod(shunted.shuntOhms, { atPositive: atPositive!, atNegative: atNegative! });
    expect(Math.abs(found.leakOhms - plain!.parallelOhms)).toBeLessThanOrEqual(0.05);
    expect(found.share! * openCircuitV).toBeCloseTo(-plain!.negativeV, 5);
  });

  it("gives 50 kΩ in parallel and 76,923 Ω for the weaker pole: the same circuit, two definitions", () => {
    const { largerV, largerWithShuntV, parallelOhms, weakerPoleOhms } = shunted.idealMeter;
    const found = knownResistorMethod({
      sourceV: openCircuitV,
      largerV,
      largerWithResistorV: largerWithShuntV,
      resistorOhms: shunted.shuntOhms,
    });
    // The printed 346.667 V carries half a millivolt of rounding: 0.2 Ω and 0.4 Ω here.
    expect(Math.abs(found.parallelOhms - parallelOhms)).toBeLessThanOrEqual(0.3);
    expect(Math.abs(found.weakerPoleOhms - weakerPoleOhms)).toBeLessThanOrEqual(0.7);
    expect(found.weakerPoleOhms / found.parallelOhms).toBeCloseTo(openCircuitV / largerV, 9);
    expect(found.weakerPoleOhms).not.toBeCloseTo(shunted.faultOhms, -3);
  });

  it("UN R100 Annex 4B: 600 V, 450 V falling to 200 V with 60 kΩ is 100 kΩ", () => {
    const { weakerPoleOhms, ...readings } = cases.unR100;
    expect(knownResistorMethod(readings).weakerPoleOhms).toBeCloseTo(weakerPoleOhms, 6);
  });

  it.each(cases.floatingString.knownResistorSpread.rows)(
    "0.5 % of gain error spreads to $percent % with $resistorOhms Ω",
    ({ resistorOhms, percent, tolerance }) => {
      const { gainError, parallelOhms } = cases.floatingString.knownResistorSpread;
      const spread = 100 * knownResistorSpread(gainError, resistorOhms, parallelOhms);
      expect(Math.abs(spread - percent)).toBeLessThanOrEqual(tolerance);
    },
  );
});

describe("two faults [computed outside: ngspice 39.3 and closed form]", () => {
  const { twoFaults } = cases.floatingString;

  it("read as one fault between them, with a current round the modules", () => {
    const circuit = closedForm(twoFaults.faults);
    const solved = solveArray(network(twoFaults.faults));
    expectBoth(terminalPotentialV(circuit, "-"), solved.potentialV({ bus: "-" }), twoFaults.negativeV, 5e-5);
    expectBoth(terminalPotentialV(circuit, "+"), solved.potentialV({ bus: "+" }), twoFaults.positiveV, 5e-5);
    expect(Math.abs(circuit.centroidV / moduleV - twoFaults.place)).toBeLessThanOrEqual(5e-5);
    expect(Math.abs(1 / circuit.leakS - twoFaults.equivalentOhms)).toBeLessThanOrEqual(0.5);
    // Between the faults the string carries what comes back through earth; the sign is towards the positive end.
    const milliamperes = 1000 * solved.moduleCurrentA("S", 10);
    expect(Math.abs(milliamperes - twoFaults.circulatingMilliamperes)).toBeLessThanOrEqual(5e-5);
    expect(solved.moduleCurrentA("S", 2)).toBeCloseTo(0, 12);
  });

  it("over all pairs and five ratios, 268 of 1,050 land within a tenth of a junction", () => {
    let all = 0;
    let clean = 0;
    for (let low = 0; low <= modules; low++)
      for (let high = low + 1; high <= modules; high++)
        for (const exponent of [-1, -0.5, 0, 0.5, 1]) {
          const faults = [
            { at: low, ohms: 1e4 },
            { at: high, ohms: 1e4 * 10 ** exponent },
          ];
          const place = closedForm(faults).centroidV / moduleV;
          all++;
          if (Math.abs(place - Math.round(place)) <= twoFaults.mimics.within + 1e-9) clean++;
        }
    expect({ all, clean }).toEqual({ all: twoFaults.mimics.of, clean: twoFaults.mimics.count });
  });
});

describe("currents in a fault [computed outside: ngspice 39.3 and closed form]", () => {
  const { bondedNegative, litTester, midpointHeld } = cases.floatingString;

  it.each(bondedNegative.rows)(
    "negative pole bonded, 1 kΩ at $at: $milliamperes mA",
    ({ at, milliamperes }) => {
      const array = network([{ at, ohms: bondedNegative.faultOhms }]);
      const solved = solveArray({ ...array, earthing: { pole: "-", ohms: bondedNegative.bondOhms } });
      expect(Math.abs(Math.abs(1000 * solved.earthingCurrentA) - milliamperes)).toBeLessThanOrEqual(0.0005);
    },
  );

  it("a 500 V tester on the lit positive pole: overpowered one way, a factor off the other", () => {
    const { testV, seriesOhms, faultOhms, at } = litTester;
    const faults = [{ at, ohms: faultOhms }];
    const closed = (volts: number) =>
      testerReads(closedForm(faults), { terminal: "+", testV: volts, seriesOhms });
    const net = (volts: number): number =>
      solveArray(network(faults), { kind: "tester", at: { bus: "+" }, testV: volts, seriesOhms }).reading!;
    expect(Math.abs(1000 * closed(testV).currentA - litTester.forwardMilliamperes)).toBeLessThanOrEqual(5e-6);
    expect(Math.abs(-1000 * closed(-testV).currentA - litTester.reversedMilliamperes)).toBeLessThanOrEqual(
      5e-4,
    );
    expectBoth(closed(-testV).ohms, net(-testV), litTester.reversedOhms, 0.5);
    expect(net(testV)).toBeCloseTo(closed(testV).ohms, 3);
  });

  it.each(midpointHeld)(
    "midpoint held by the inverter: 30 mA sees up to $visibleOhms Ω at $at",
    ({ at, visibleOhms }) => {
      const currentThrough = (ohms: number): number =>
        solveNetwork([
          {
            name: "midpoint",
            from: "below",
            to: EARTH,
            kind: "voltage-source",
            volts: (modules / 2) * moduleV,
            ohms: 0,
          },
          {
            name: "to the fault",
            from: "below",
            to: "fault",
            kind: "voltage-source",
            volts: at * moduleV,
            ohms: 0,
          },
          { name: "fault", from: "fault", to: EARTH, kind: "resistor", ohms },
        ]).currentA("fault");
      // Printed to three digits.
      expect(Math.abs(currentThrough(visibleOhms)) / 0.03).toBeCloseTo(1, 2);
      expect(Math.abs(currentThrough(visibleOhms * 1.01))).toBeLessThan(0.03);
      expect(Math.abs(currentThrough(visibleOhms / 10)) / 0.3).toBeCloseTo(1, 2);
    },
  );

  it("midpoint held: a fault there carries nothing at any resistance", () => {
    const circuit = floatingCircuit(openCircuitV, [{ aboveNegativeV: openCircuitV / 2, siemens: 1 / 0.001 }]);
    const held = withTerminalLeak(withTerminalLeak(circuit, "+", 1), "-", 1);
    expect(terminalPotentialV(held, "+")).toBeCloseTo(openCircuitV / 2, 9);
  });
});
