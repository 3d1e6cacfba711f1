import { describe, expect, it } from "vitest";
import type { Volts } from "../quantity/index.ts";
import { firstRequests, seededRandom } from "../simulate/index.ts";
import { locate } from "./locate.ts";
import {
  circuitWith,
  exactVisit,
  insulation,
  noisyVisit,
  stringWith,
  visitTo,
  volts,
} from "./simulated-visit.fixture.ts";
import type { Finding } from "./finding.ts";

const probabilityOf = (finding: Finding, what: string): number =>
  finding.hypotheses.find((hypothesis) => hypothesis.what === what)!.probability;

describe("locating one fault", () => {
  it("names the place of the first worked reading of the trade: 10 kΩ at node 5 of 20", () => {
    // |V−| = 10 MΩ/(10 MΩ + 10 kΩ) · 200 V, |V+| likewise of 600 V [computed by hand from Kirchhoff's laws].
    const finding = locate(
      visitTo(20, [volts("+", "-", 800), volts("-", "earth", 199.8), volts("+", "earth", 599.4)]),
    );
    expect(finding.verdict).toBe("located");
    expect(finding.places[0]).toMatchObject({ string: "S1", at: 5, what: "junction" });
  });

  it.each([
    ["the negative end", 0, "home-run"],
    ["a junction", 7, "junction"],
    ["the inside of a module", 12 + 1 / 3, "module"],
    ["the positive end", 20, "home-run"],
  ])("names %s, and the resistance within its interval", (_, at, what) => {
    const finding = locate(exactVisit(stringWith([{ string: "S1", at, ohms: 15e3 }])));
    expect(finding.verdict).toBe("located");
    expect(finding.places[0]).toMatchObject({ what, at: expect.closeTo(at, 9) as number });
    expect(finding.faultResistance!.low).toBeLessThan(15e3);
    expect(finding.faultResistance!.high).toBeGreaterThan(15e3);
    expect(finding.faultResistance!.high / finding.faultResistance!.low).toBeLessThan(1.3);
  });

  it("gives the insulation of the whole string, fault and healthy leakage in parallel", () => {
    const [whole] = locate(exactVisit(stringWith([{ string: "S1", at: 9, ohms: 100e3 }]))).insulation;
    const ohms = 1 / (1 / 100e3 + 20 / 200e6);
    expect(whole!.string).toBe("S1");
    expect(whole!.low).toBeLessThan(ohms);
    expect(whole!.high).toBeGreaterThan(ohms);
  });

  it("is as sure of the place without + to −, and less sure of the resistance", () => {
    const given = exactVisit(stringWith([{ string: "S1", at: 9, ohms: 30e3 }]));
    const without = locate({ ...given, readings: given.readings.slice(1) });
    expect(without.places[0]).toMatchObject({ at: 9 });
    expect(without.warnings.join()).toContain("no + to − reading");
  });

  it("finds a soft leak from the meter alone, as the missing volts measure it", () => {
    const scenario = stringWith([{ string: "S1", at: 15, ohms: 1e6 }], 2e9);
    const finding = locate(exactVisit(scenario, firstRequests("S1").slice(0, 3)));
    expect(finding.places[0]!.at).toBeGreaterThan(14);
    expect(finding.places[0]!.at).toBeLessThan(16);
    expect(finding.faultResistance!.low).toBeLessThan(1e6);
    expect(finding.faultResistance!.high).toBeGreaterThan(1e6);
  });

  it("finds it from a tester on each pole, without a voltmeter to earth", () => {
    const at = 6;
    const tests = [
      ...firstRequests("S1").slice(0, 1),
      { with: "tester", on: "S1", from: "+", to: "earth", testVoltage: "-1000 V" },
      { with: "tester", on: "S1", from: "-", to: "earth", testVoltage: "1000 V" },
    ] as const;
    const finding = locate(exactVisit(stringWith([{ string: "S1", at, ohms: 200e3 }]), tests));
    expect(Math.abs(finding.places[0]!.at - at)).toBeLessThanOrEqual(1);
  });

  it("takes modules of their own voltages into account", () => {
    // Fault at node 1 of two modules, 10 V below and 30 V above: a quarter of the voltage, not half.
    const readings = [volts("+", "-", 40), volts("-", "earth", 10), volts("+", "earth", 30)];
    const spec = { substrings: 1, moduleVocs: [10, 30] as unknown as readonly Volts[] };
    expect(locate(visitTo(2, readings, spec)).places[0]).toMatchObject({ at: 1 });
  });
});

describe("what is not one fault", () => {
  it("a sound string is no-fault, with an empty plan", () => {
    const finding = locate(exactVisit(stringWith([])));
    expect(finding).toMatchObject({ verdict: "no-fault", next: [], faultResistance: null });
    expect(probabilityOf(finding, "healthy leakage only")).toBeGreaterThan(0.97);
  });

  it("a sound string is not called faulty in any of 60 draws", () => {
    const random = seededRandom(31);
    for (let i = 0; i < 60; i++) {
      const moduleLeakOhms = 10e6 * 200 ** random.uniform();
      const { verdict } = locate(noisyVisit(stringWith([], moduleLeakOhms), random));
      expect(["no-fault", "cannot-tell"]).toContain(verdict);
    }
  });

  it("lopsided leakage of a wet string is not sold as a place", () => {
    const leaks = Array.from({ length: 20 }, (_, module) => (module < 5 ? 1e6 : 15e6));
    const scenario = stringWith([]);
    const wet = { ...scenario, wet: true, strings: [{ ...scenario.strings[0]!, moduleLeakOhms: leaks }] };
    const finding = locate(exactVisit(wet));
    expect(["cannot-tell", "no-fault"]).toContain(finding.verdict);
    expect(probabilityOf(finding, "wetness spread over the string")).toBeGreaterThan(0.05);
  });

  it("two faults that look like one are warned of while the string is intact", () => {
    const faults = [
      { string: "S1", at: 5, ohms: 50e3 },
      { string: "S1", at: 15, ohms: 100e3 },
    ];
    const finding = locate(exactVisit(stringWith(faults, Infinity)));
    expect(finding.warnings.join()).toContain("cannot tell one fault from two");
    expect(probabilityOf(finding, "two damaged places")).toBeGreaterThan(0.02);
  });

  it("no reading at all leaves the prior, and asks for the first readings", () => {
    const finding = locate(visitTo(20, []));
    expect(finding.verdict).toBe("cannot-tell");
    expect(finding.next[0]).toMatchObject({ action: "read", string: "S1" });
    expect(finding.next[0]!.readings.map(({ from, to }) => `${from} ${to}`)).toEqual([
      "+ -",
      "+ earth",
      "- earth",
    ]);
  });
});

describe("strings in parallel", () => {
  const scenario = circuitWith([{ string: "S3", at: 12, ohms: 10e3 }]);

  it("keeps all strings in doubt while they are joined", () => {
    const finding = locate(exactVisit(scenario, firstRequests("C1")));
    expect(finding.verdict).toBe("cannot-tell");
    expect(new Set(finding.credible.places.map(({ string }) => string)).size).toBeGreaterThanOrEqual(4);
  });

  it("names string and place once two of them are isolated and one is read alone", () => {
    const requests = [
      ...firstRequests("C1"),
      ...firstRequests("C1").map((request) => ({ ...request, isolated: ["S1", "S2"] })),
      ...firstRequests("S3"),
    ];
    const finding = locate(exactVisit(scenario, requests));
    expect(finding).toMatchObject({ verdict: "located", places: [{ string: "S3", at: 12 }] });
  });

  it("clears strings that keep their voltage to earth when the others are isolated", () => {
    const requests = [
      ...firstRequests("C1"),
      ...firstRequests("C1").map((request) => ({ ...request, isolated: ["S3"] })),
    ];
    const finding = locate(exactVisit(scenario, requests));
    const others = finding.places.filter(({ string }) => string !== "S3" && string !== "C1");
    expect(others.reduce((sum, { probability }) => sum + probability, 0)).toBeLessThan(1e-3);
  });

  it("warns of strings of unequal length", () => {
    const visit = exactVisit(scenario, firstRequests("C1"));
    const strings = visit.strings.map((spec, i) => (i === 0 ? { ...spec, modules: 18 } : spec));
    expect(locate({ ...visit, strings }).warnings.join()).toContain("unequal length");
  });
});

describe("what the finding says beside the place", () => {
  it.each([
    ["the meter's input resistance", { instruments: [] }, "input resistance not given"],
    ["the mismatch of modules", { conditions: {} }, "mismatch of module voltages not given"],
    ["the drift of light", { conditions: {} }, "drift of light and temperature"],
    ["whether it was wet", { conditions: {} }, "not said whether the array was wet"],
  ])("repeats the default taken for %s", (_, change, warning) => {
    const visit = { ...exactVisit(stringWith([])), ...change };
    expect(locate(visit).warnings.join()).toContain(warning);
  });

  it("asks whether the string is as long as the file says when + to − denies it", () => {
    const readings = [volts("+", "-", 760), volts("-", "earth", 200), volts("+", "earth", 550)];
    const finding = locate(visitTo(20, readings, { moduleVoc: 40 as Volts }));
    expect(finding.warnings.join()).toContain("19.0 modules");
  });

  it("says when the visit's own weights leave no place, and uses the defaults", () => {
    const priors = { connector: 0, inModule: 0, homeRun: 0, combiner: 1 };
    const finding = locate({ ...exactVisit(stringWith([{ string: "S1", at: 4, ohms: 10e3 }])), priors });
    expect(finding.warnings.join()).toContain("without a possible place");
    expect(finding.places[0]).toMatchObject({ at: 4 });
  });

  it("lets the visit's own weights decide between places that the readings leave", () => {
    const visit = exactVisit(stringWith([{ string: "S1", at: 4 + 1 / 3, ohms: 1e6 }]));
    const onlyJunctions = { connector: 1, inModule: 0, homeRun: 1, combiner: 0 };
    for (const { what } of locate({ ...visit, priors: onlyJunctions }).places)
      expect(what).not.toBe("module");
  });

  it("shows a tester that reads under its floor as a hard fault, not as a contradiction", () => {
    const given = exactVisit(stringWith([{ string: "S1", at: 9, ohms: 50 }]));
    for (const shown of [2500, 900, 0]) {
      const readings = [...given.readings, insulation("-", 1000, shown)];
      expect(locate({ ...given, readings })).toMatchObject({ verdict: "located", places: [{ at: 9 }] });
    }
  });

  it("gives the hand rule's place beside its own", () => {
    const finding = locate(exactVisit(stringWith([{ string: "S1", at: 4, ohms: 500e3 }])));
    expect(finding.handRule[0]!.at).toBeGreaterThan(4.05);
    expect(finding.handRule[0]!.at).toBeLessThan(4.4);
  });
});

describe("damage at an opened junction", () => {
  it.each([
    ["stays below", 0],
    ["stays above", 1],
  ])("is found where it %s the cut", (_, half) => {
    const segments = [
      [0, 8],
      [8, 20],
    ] as const;
    const random = seededRandom(20 + half);
    const requests = [
      ...firstRequests("S1"),
      ...segments.flatMap((segment) => firstRequests("S1").map((request) => ({ ...request, segment }))),
    ];
    // Which half keeps the damage is drawn; look for a draw of each kind.
    for (let tries = 0; tries < 20; tries++) {
      const visit = noisyVisit(stringWith([{ string: "S1", at: 8, ohms: 5e3 }]), random, requests);
      const missing = visit.readings.slice(5 + 5 * (1 - half), 10 + 5 * (1 - half));
      if (Math.max(...missing.slice(1).map(({ value }) => value as number)) > 100) continue;
      expect(locate(visit)).toMatchObject({ verdict: "located", places: [{ at: 8 }] });
      return;
    }
    throw new Error("no draw left the damage on this side");
  });
});

describe("leakage through the shunt", () => {
  it("does not depend on which known resistor was used", () => {
    for (const shunt of ["22 kΩ", "100 kΩ", "1 MΩ"]) {
      const requests = firstRequests("S1").map((request) =>
        request.shunt ? { ...request, shunt } : request,
      );
      const finding = locate(exactVisit(stringWith([{ string: "S1", at: 11, ohms: 40e3 }]), requests));
      expect(finding.places[0]).toMatchObject({ at: 11 });
      const known = finding.insulation[0]!;
      expect(known.low).toBeLessThan(40e3);
      expect(known.high).toBeGreaterThan(39e3);
    }
  });
});
