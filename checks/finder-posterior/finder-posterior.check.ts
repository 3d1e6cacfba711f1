import { describe, expect, it } from "vitest";
import { locate, type Finding, type Instrument, type Visit } from "@earthbell/engine";
import reference from "./cases.json" with { type: "json" };

type Place = readonly [string: string, at: number, probability: number];
interface Case {
  readonly name: string;
  readonly visit: Visit;
  /** Each place with its probability, given that one place is damaged; those below 5e-6 are left out. */
  readonly places: readonly Place[];
  readonly placesError: number;
  /** Hypotheses but for two faults, which sum to 1. */
  readonly hypotheses: { readonly one: number; readonly none: number; readonly wetness: number };
  readonly hypothesesError: number;
}

const { shared } = reference;
const cases = (reference.cases as unknown as readonly Case[]).map((given): Case => {
  const instruments = shared.instruments as unknown as readonly Instrument[];
  // The file names no instrument beside a reading: there is one for each kind.
  const readings = given.visit.readings.map((reading) => ({ ...reading, with: reading.kind }));
  return { ...given, visit: { ...given.visit, readings, instruments, costs: {}, priors: shared.priors } };
});

/** Total variation by which the finder may be off beyond the reference's own error, by the light: see SOURCE.md. */
const TOLERANCE = { steady: 0.02, unsteady: 0.05 };
const UNSTEADY_DRIFT = 0.03;
/** The reference's error is one standard deviation of the mean of its scramblings. */
const ERRORS = 3;
/** Below this the readings exclude a fault, and where it would be is asked of nobody. */
const FAULT_POSSIBLE = 1e-3;

const keyOf = (string: string, at: number): string => `${string} ${at.toFixed(4)}`;
const faulty = ({ hypotheses }: Case): boolean => hypotheses.one > FAULT_POSSIBLE;

function allowed({ visit }: Case, error: number): number {
  const unsteady = (visit.conditions.drift ?? 0) >= UNSTEADY_DRIFT;
  return ERRORS * error + (unsteady ? TOLERANCE.unsteady : TOLERANCE.steady);
}

const ranked = ({ places }: Case): readonly Place[] => places.toSorted(([, , a], [, , b]) => b - a);
/** Whether the likeliest place leads by more than both may be off. */
function hasMargin(given: Case): boolean {
  const [first, second] = ranked(given);
  return first![2] - (second?.[2] ?? 0) > 2 * allowed(given, given.placesError);
}

/** The finder's places given that there is a fault; those it does not name count as zero. */
function placesOf(finding: Finding): ReadonlyMap<string, number> {
  const fault = finding.hypotheses.reduce(
    (sum, { faults, probability }) => sum + (faults > 0 ? probability : 0),
    0,
  );
  return new Map(finding.places.map((place) => [keyOf(place.string, place.at), place.probability / fault]));
}

function sharesOf(finding: Finding): ReadonlyMap<string, number> {
  const named = {
    one: "one damaged place",
    none: "healthy leakage only",
    wetness: "wetness spread over the string",
  };
  const shares = Object.entries(named).map(
    ([name, what]) =>
      [name, finding.hypotheses.find((hypothesis) => hypothesis.what === what)!.probability] as const,
  );
  const total = shares.reduce((sum, [, share]) => sum + share, 0);
  return new Map(shares.map(([name, share]) => [name, share / total]));
}

/** Total variation distance: the largest difference in probability that any set of places can have. */
function apart(ours: ReadonlyMap<string, number>, theirs: ReadonlyMap<string, number>): number {
  const keys = new Set([...ours.keys(), ...theirs.keys()]);
  return [...keys].reduce((sum, key) => sum + Math.abs((ours.get(key) ?? 0) - (theirs.get(key) ?? 0)), 0) / 2;
}

/** How far the finder on `visit` is from the reference of a case. */
function placesApart(given: Case, visit: Visit): number {
  const theirs = new Map(given.places.map(([string, at, probability]) => [keyOf(string, at), probability]));
  return apart(placesOf(locate(visit)), theirs);
}

const byName = (given: readonly Case[]): (readonly [string, Case])[] =>
  given.map((each) => [each.name, each]);

describe("the posterior against importance sampling over every unknown", () => {
  it("has thirty cases, of which eight or more read the halves and four isolate a string", () => {
    expect(cases).toHaveLength(30);
    const opened = cases.filter(({ visit }) => visit.readings.some(({ segment }) => segment !== undefined));
    expect(opened.length).toBeGreaterThanOrEqual(8);
    const isolated = cases.filter(
      ({ visit }) =>
        visit.circuits.length > 0 &&
        new Set(visit.readings.map((r) => `${r.on} ${String(r.isolated)}`)).size > 1,
    );
    expect(isolated.length).toBeGreaterThanOrEqual(4);
    expect(cases.filter((each) => !faulty(each)).length).toBeGreaterThanOrEqual(2);
  });

  it.each(byName(cases.filter(faulty)))("gives every place its probability: %s", (_, given) => {
    expect(placesApart(given, given.visit)).toBeLessThan(allowed(given, given.placesError));
  });

  it.each(byName(cases.filter(faulty).filter(hasMargin)))("names the same place first: %s", (_, given) => {
    const [first] = ranked(given);
    const [ours] = [...placesOf(locate(given.visit))].toSorted(([, a], [, b]) => b - a);
    expect(ours![0]).toBe(keyOf(first![0], first![1]));
  });

  it.each(byName(cases))("weighs one fault, none and wetness alike: %s", (_, given) => {
    const distance = apart(sharesOf(locate(given.visit)), new Map(Object.entries(given.hypotheses)));
    expect(distance).toBeLessThan(allowed(given, given.hypothesesError));
  });

  it.each([
    ["that the light is twice as steady", { drift: 0.5 }],
    ["that it is half as steady", { drift: 2 }],
    ["that modules are three times as unlike", { mismatch: 3 }],
  ] as const)("notices in several cases when the finder is told %s", (_, factors) => {
    const noticed = cases.filter(faulty).filter((given) => {
      const { drift, mismatch } = given.visit.conditions;
      const conditions = {
        ...given.visit.conditions,
        drift: drift! * ("drift" in factors ? factors.drift : 1),
        mismatch: mismatch! * ("mismatch" in factors ? factors.mismatch : 1),
      } as Visit["conditions"];
      const distance = placesApart(given, { ...given.visit, conditions });
      return distance > allowed(given, given.placesError);
    });
    expect(noticed.length).toBeGreaterThanOrEqual(4);
  });
});
