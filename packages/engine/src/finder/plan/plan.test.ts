import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cautionsFor, preconditionsFor, PRECONDITIONS } from "../../safety/index.ts";
import {
  drawScenario,
  drawTruth,
  firstRequests,
  measure,
  seededRandom,
  visitOf,
} from "../../simulate/index.ts";
import { anyVisit } from "../drawn-visit.fixture.ts";
import type { Step } from "../finding.ts";
import { locate } from "../locate.ts";
import {
  circuitWith,
  exactVisit,
  noisyVisit,
  stringWith,
  visitTo,
  volts,
} from "../simulated-visit.fixture.ts";
import type { Visit } from "../visit.ts";

const opens = (step: Step): boolean => step.action === "open-connector" || step.action === "confirm";
const halves = (id: string, node: number) =>
  (
    [
      [0, node],
      [node, 20],
    ] as const
  ).flatMap((segment) => firstRequests(id).map((request) => ({ ...request, segment })));
/** Whether something on this visit may have left a charge: a tester or monitor in the bag, a test on record, or an unknown bag. */
const mayBeCharged = ({ instruments, readings }: Visit): boolean =>
  instruments.length === 0 ||
  instruments.some(({ kind }) => kind === "insulation-tester" || kind === "insulation-monitor") ||
  readings.some(({ kind }) => kind === "insulation");
/** Strings that stand in a circuit and were never read by themselves. */
function stillInParallel(visit: Visit): ReadonlySet<string> {
  const alone = new Set(
    visit.readings.flatMap((reading) => {
      if (reading.kind === "leakage") return [];
      const circuit = visit.circuits.find(({ id }) => id === reading.on);
      if (!circuit) return [reading.on];
      const left = circuit.strings.filter((id) => !reading.isolated?.includes(id));
      return left.length === 1 ? left : [];
    }),
  );
  return new Set(visit.circuits.flatMap(({ strings }) => strings).filter((id) => !alone.has(id)));
}

describe("what a plan never does", { timeout: 120_000 }, () => {
  const somewhere = fc.oneof(
    anyVisit,
    fc.nat(1e6).map((seed) => {
      const random = seededRandom(seed);
      const faults = [
        { string: "S3", at: Math.floor(61 * random.uniform()) / 3, ohms: 10 * 1e5 ** random.uniform() },
      ];
      const more = random.uniform() < 0.5 ? firstRequests("S3") : [];
      return noisyVisit(circuitWith(faults), random, [...firstRequests("C1"), ...more]);
    }),
  );

  it("opens a connector of a string that still stands in parallel with others", () => {
    fc.assert(
      fc.property(somewhere, (visit) => {
        const joined = stillInParallel(visit);
        for (const step of locate(visit).next.filter(opens)) expect(joined).not.toContain(step.string);
      }),
      { numRuns: 40 },
    );
  });

  it("proposes a step without every precondition that its action has, or one that nobody has worded", () => {
    fc.assert(
      fc.property(somewhere, (visit) => {
        for (const step of locate(visit).next) {
          const asked = preconditionsFor(step.action).filter(
            (id) => id !== "charge-discharged" || mayBeCharged(visit),
          );
          expect(step.requires).toEqual(asked);
          expect(step.requires.length).toBeGreaterThan(0);
          for (const id of step.requires) expect(Object.keys(PRECONDITIONS)).toContain(id);
          if (opens(step)) expect(step.requires).toContain("zero-current-proven");
        }
      }),
      { numRuns: 40 },
    );
  });

  it("proposes readings that the wiring does not have, more than six steps, or a step without price or reason", () => {
    fc.assert(
      fc.property(somewhere, (visit) => {
        const { next } = locate(visit);
        expect(next.length).toBeLessThanOrEqual(6);
        const known = new Set([...visit.strings.map(({ id }) => id), ...visit.circuits.map(({ id }) => id)]);
        for (const step of next) {
          expect(step.minutes).toBeGreaterThan(0);
          expect(step.bits).toBeGreaterThanOrEqual(0);
          expect(step.why).not.toBe("");
          for (const { on, segment } of step.readings) {
            expect(known).toContain(on);
            if (!segment) continue;
            const modules = visit.strings.find(({ id }) => id === on)!.modules;
            expect(segment[0]).toBeGreaterThanOrEqual(0);
            expect(segment[1]).toBeGreaterThan(segment[0]);
            expect(segment[1]).toBeLessThanOrEqual(modules);
          }
        }
      }),
      { numRuns: 40 },
    );
  });

  it("opens a connector on a wet roof, unless the way up was recorded as safe", () => {
    const wet = { ...stringWith([{ string: "S1", at: 6, ohms: 10e3 }]), wet: true };
    const visit = exactVisit(wet);
    expect(locate(visit).next.some(opens)).toBe(false);
    expect(locate({ ...visit, recorded: ["access-safe"] }).next.some(opens)).toBe(true);
  });
});

describe("the order of the next steps", () => {
  it("is by bits per minute, but for a place that is certain enough to be confirmed", () => {
    const random = seededRandom(41);
    let compared = 0;
    for (let i = 0; i < 30; i++) {
      const drawn = drawScenario("soft", random);
      const finding = locate(noisyVisit(drawn.scenario, random));
      if (finding.verdict === "located") continue;
      const worth = finding.next.map(({ bits, minutes }) => bits / minutes);
      expect(worth).toEqual(worth.toSorted((a, b) => b - a));
      compared++;
    }
    expect(compared).toBeGreaterThan(5);
  });

  it.each([
    ["the shunt, once the plain readings are taken", 3, "read-with-shunt"],
    ["nothing at the terminals, once all five are taken", 5, null],
  ])("asks at the terminals for %s", (_, taken, action) => {
    const scenario = stringWith([{ string: "S1", at: 8, ohms: 150e3 }]);
    const { next } = locate(exactVisit(scenario, firstRequests("S1").slice(0, taken)));
    const atTerminals = next.filter((step) => step.action === "read" || step.action === "read-with-shunt");
    expect(atTerminals.map((step) => step.action)).toEqual(action === null ? [] : [action]);
  });

  it("does not ask again for what was read", () => {
    const finding = locate(exactVisit(stringWith([{ string: "S1", at: 8, ohms: 700e3 }])));
    for (const step of finding.next) expect(["read", "read-with-shunt"]).not.toContain(step.action);
  });

  it("reads the circuit before it isolates, and isolates before it opens", () => {
    const scenario = circuitWith([{ string: "S3", at: 12, ohms: 10e3 }]);
    const before = locate(exactVisit(scenario, firstRequests("C1").slice(0, 1)));
    expect(before.next[0]!.readings.every(({ on }) => on === "C1")).toBe(true);
    const joined = locate(exactVisit(scenario, firstRequests("C1")));
    expect(joined.next[0]).toMatchObject({ action: "isolate-string" });
    const alone = locate(exactVisit(scenario, [...firstRequests("C1"), ...firstRequests("S3")]));
    expect(alone.next[0]).toMatchObject({ action: "confirm", string: "S3", at: 12 });
  });

  it("takes the circuit as connected after a clamp reading, not the clamped string", () => {
    const scenario = circuitWith([{ string: "S3", at: 12, ohms: 10e3 }]);
    const clamp = {
      with: "clamp",
      on: "S2",
      circuit: "C1",
      from: "-",
      to: "earth",
      shunt: "100 kΩ",
    } as const;
    const finding = locate(exactVisit(scenario, [...firstRequests("C1").slice(0, 3), clamp]));
    for (const step of finding.next.filter(({ action }) => action === "read" || action === "read-with-shunt"))
      for (const { with: instrument, on } of step.readings) if (instrument === "meter") expect(on).toBe("C1");
  });
});

describe("confirming a place", () => {
  const scenario = stringWith([{ string: "S1", at: 6, ohms: 10e3 }]);

  it("is first as soon as the place is located, and reads both halves", () => {
    const [step] = locate(exactVisit(scenario)).next;
    expect(step).toMatchObject({ action: "confirm", string: "S1", at: 6 });
    const segments = new Set(step!.readings.map(({ segment }) => segment!.join("–")));
    expect([...segments]).toEqual(["0–6", "6–20"]);
    expect(step!.minutes).toBe(12 + 10);
  });

  it.each([
    ["the negative end opens its own connector", 0, 0],
    ["the positive end opens its own connector", 20, 20],
    ["the inside of module 13 opens beside it", 12 + 1 / 3, 12],
    ["the inside of module 13, nearer its top, opens above it", 12 + 2 / 3, 13],
  ])("of %s", (_, at, node) => {
    const [step] = locate(exactVisit(stringWith([{ string: "S1", at, ohms: 5e3 }]))).next;
    expect(step).toMatchObject({ action: "confirm", at: node });
  });

  it("leaves nothing to do once the opening bore it out", () => {
    const finding = locate(exactVisit(scenario, [...firstRequests("S1"), ...halves("S1", 6)]));
    expect(finding).toMatchObject({ verdict: "located", places: [{ at: 6 }], next: [] });
  });

  it("goes on where the opening showed two faults", () => {
    const two = stringWith([
      { string: "S1", at: 3, ohms: 50e3 },
      { string: "S1", at: 16, ohms: 70e3 },
    ]);
    const finding = locate(exactVisit(two, [...firstRequests("S1"), ...halves("S1", 10)]));
    expect(finding.verdict).toBe("more-than-one");
    expect(finding.next.filter(opens).length).toBeGreaterThan(0);
  });

  it("uses the visit's own costs", () => {
    const costs = { openConnector: 30, reading: 2 } as unknown as Visit["costs"];
    const [step] = locate({ ...exactVisit(scenario), costs }).next;
    expect(step!.minutes).toBe(30 + 10 * 2);
  });
});

describe("a plan followed to its end", { timeout: 120_000 }, () => {
  it.each(["hard", "soft"] as const)(
    "names the right place of a %s fault in at least 19 of 20 walks",
    (kind) => {
      const random = seededRandom(53);
      let right = 0;
      for (let i = 0; i < 20; i++) {
        const drawn = drawScenario(kind, random);
        const truth = drawTruth(drawn.scenario, random);
        let readings = firstRequests(drawn.on).map((request) => measure(truth, request, random));
        let finding = locate(visitOf(drawn.scenario, readings));
        for (let step = 0; step < 12 && finding.next[0]; step++) {
          readings = [
            ...readings,
            ...finding.next[0].readings.map((request) => measure(truth, request, random)),
          ];
          finding = locate(visitOf(drawn.scenario, readings));
        }
        const [fault] = drawn.scenario.faults;
        right += Number("at" in fault! && Math.abs(finding.places[0]!.at - fault.at) < 1e-6);
      }
      expect(right).toBeGreaterThanOrEqual(19);
    },
  );

  it("asks that charge was let off where a tester may have left one, and never drops the caution", () => {
    const visit = exactVisit(stringWith([{ string: "S1", at: 7, ohms: 20e3 }]));
    const meter = visit.instruments.filter(({ kind }) => kind === "voltmeter");
    const asksFor = (one: Visit): boolean[] =>
      locate(one)
        .next.filter(opens)
        .map(({ requires }) => requires.includes("charge-discharged"));
    const withMeter = { ...visit, instruments: meter };
    expect(asksFor(withMeter)).toContain(false);
    expect(asksFor(withMeter)).not.toContain(true);
    for (const other of [
      { ...withMeter, instruments: [...meter, { name: "tester", kind: "insulation-tester" } as const] },
      { ...withMeter, instruments: [] },
      { ...withMeter, instruments: [...meter, { name: "inverter", kind: "insulation-monitor" } as const] },
    ]) {
      expect(asksFor(other)).toContain(true);
      expect(asksFor(other)).not.toContain(false);
    }
    for (const action of ["isolate-string", "open-connector", "confirm"] as const)
      expect(cautionsFor(action).map(({ id }) => id)).toContain("let-charge-off");
  });

  it("waits until dry where wetness hides what there is", () => {
    const leaks = Array.from({ length: 20 }, (_, module) => (module < 5 ? 1e6 : 15e6));
    const base = stringWith([]);
    const wet = { ...base, wet: true, strings: [{ ...base.strings[0]!, moduleLeakOhms: leaks }] };
    expect(locate(exactVisit(wet)).next.some(({ action }) => action === "wait-dry")).toBe(true);
  });

  it("asks for the first plain readings and nothing else before anything was read", () => {
    const visit = {
      ...visitTo(20, []),
      strings: [
        { id: "S1", modules: 20 },
        { id: "S2", modules: 20 },
      ],
    };
    const joined = { ...visit, circuits: [{ id: "C1", strings: ["S1", "S2"] }] };
    expect(locate(visit).next.map(({ action, string }) => `${action} ${string}`)).toEqual(["read S1"]);
    expect(locate(joined).next.map(({ action, string }) => `${action} ${string}`)).toEqual(["read C1"]);
  });

  it("asks for what is missing after a single reading", () => {
    const finding = locate(visitTo(20, [volts("-", "earth", 120)]));
    const wanted = finding.next.find(({ action }) => action === "read")!.readings;
    expect(wanted.map(({ from, to }) => `${from} ${to}`)).toEqual(["+ -", "+ earth"]);
  });
});
