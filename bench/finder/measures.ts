import {
  type Finding,
  type PlaceWeights,
  type Random,
  BLUNDERS,
  type DrawnScenario,
  drawTruth,
  firstRequests,
  oneString,
  exactReading,
  locate,
  measure,
  measureWithBlunder,
  seededRandom,
  visitOf,
} from "@earthbell/engine";
import { trueAt, walk } from "./closed-loop.ts";

/** Every place alike: what the drawn truth follows, so no method can name more places rightly than this one. */
const TRUE_WEIGHTS: PlaceWeights = { connector: 1, inModule: 2, homeRun: 1, combiner: 1 };

export interface FirstReadings {
  readonly ohms: readonly [number, number];
  readonly cases: number;
  readonly exact: number;
  readonly withinOne: number;
  readonly handExact: number;
  readonly handWithinOne: number;
  /** The same engine told how the truth was drawn: the most that the readings hold. */
  readonly oracleExact: number;
  readonly oracleWithinOne: number;
  readonly covered: number;
  /** What the credible sets themselves claim to hold, on average. */
  readonly claimed: number;
  readonly setSize: number;
  readonly calledNoFault: number;
}

function hits(place: { at: number } | undefined, at: number): { exact: number; near: number } {
  const distance = place === undefined ? Infinity : Math.abs(place.at - at);
  return { exact: Number(distance < 1e-6), near: Number(distance < 1 + 1e-6) };
}

export function firstReadings(seed: number, cases: number, ohms: readonly [number, number]): FirstReadings {
  const random = seededRandom(seed);
  const scores = Array.from({ length: cases }, () => scoreFirst(random, ohms));
  const mean = (pick: (score: (typeof scores)[number]) => number): number =>
    scores.reduce((sum, score) => sum + pick(score), 0) / cases;
  return {
    ohms,
    cases,
    exact: mean(({ ours }) => ours.exact),
    withinOne: mean(({ ours }) => ours.near),
    handExact: mean(({ hand }) => hand.exact),
    handWithinOne: mean(({ hand }) => hand.near),
    oracleExact: mean(({ oracle }) => oracle.exact),
    oracleWithinOne: mean(({ oracle }) => oracle.near),
    covered: mean(({ covered }) => covered),
    claimed: mean(({ claimed }) => claimed),
    setSize: mean(({ setSize }) => setSize),
    calledNoFault: mean(({ none }) => none),
  };
}

/** One drawn string, its first five readings, and how each method names the place. */
function scoreFirst(random: Random, ohms: readonly [number, number]) {
  const drawn = oneString(random, ohms);
  const truth = drawTruth(drawn.scenario, random);
  const requests = firstRequests(drawn.on);
  const visit = visitOf(
    drawn.scenario,
    requests.map((request) => measure(truth, request, random)),
  );
  const finding = locate(visit);
  const { at } = trueAt(drawn)[0]!;
  const byHand = finding.handRule[0]?.at ?? null;
  return {
    ours: hits(finding.places[0], at),
    oracle: hits(locate({ ...visit, priors: TRUE_WEIGHTS }).places[0], at),
    hand: hits(byHand === null ? undefined : { at: Math.round(byHand * 3) / 3 }, at),
    covered: Number(finding.credible.places.some((place) => Math.abs(place.at - at) < 1e-6)),
    claimed: claimedBy(finding),
    setSize: finding.credible.places.length,
    none: Number(finding.verdict === "no-fault"),
  };
}

function claimedBy(finding: Finding): number {
  return finding.places
    .slice(0, finding.credible.places.length)
    .reduce((total, { probability }) => total + probability, 0);
}

export interface ClosedLoop {
  readonly name: string;
  readonly cases: number;
  readonly exact: number;
  readonly rightString: number;
  readonly openingsBesideConfirming: number;
  readonly isolations: number;
  readonly isolationsAllowed: number;
  readonly minutes: number;
  readonly moreThanOneEver: number;
  readonly medianMilliseconds: number;
  readonly slowestMilliseconds: number;
}

export function closedLoop(
  name: string,
  seed: number,
  cases: number,
  draw: (random: Random) => DrawnScenario,
): ClosedLoop {
  const random = seededRandom(seed);
  const sum = { exact: 0, string: 0, openings: 0, isolations: 0, allowed: 0, minutes: 0, several: 0 };
  const milliseconds: number[] = [];
  for (let i = 0; i < cases; i++) {
    const drawn = draw(random);
    const done = walk(drawn, random);
    const [wanted] = trueAt(drawn);
    const named = done.last.places[0];
    sum.exact += Number(
      wanted !== undefined && named?.string === wanted.string && Math.abs(named.at - wanted.at) < 1e-6,
    );
    sum.string += Number(named?.string === wanted?.string);
    sum.openings += Math.max(0, done.openings - 1);
    sum.isolations += done.isolations;
    sum.allowed += Math.log2(drawn.scenario.strings.length) + 1;
    sum.minutes += done.minutes;
    sum.several += Number(done.findings.some(({ verdict }) => verdict === "more-than-one"));
    milliseconds.push(...done.milliseconds);
  }
  milliseconds.sort((a, b) => a - b);
  const share = (value: number): number => value / cases;
  return {
    name,
    cases,
    exact: share(sum.exact),
    rightString: share(sum.string),
    openingsBesideConfirming: share(sum.openings),
    isolations: share(sum.isolations),
    isolationsAllowed: share(sum.allowed),
    minutes: share(sum.minutes),
    moreThanOneEver: share(sum.several),
    medianMilliseconds: milliseconds[milliseconds.length >> 1]!,
    slowestMilliseconds: milliseconds[milliseconds.length - 1]!,
  };
}

export interface NoFault {
  readonly cases: number;
  readonly calledNoFault: number;
  readonly wronglyNamed: number;
}

export function noFault(seed: number, cases: number): NoFault {
  const random = seededRandom(seed);
  let none = 0;
  let named = 0;
  for (let i = 0; i < cases; i++) {
    const drawn = oneString(random, null);
    const truth = drawTruth(drawn.scenario, random);
    const { verdict } = locate(
      visitOf(
        drawn.scenario,
        firstRequests(drawn.on).map((request) => measure(truth, request, random)),
      ),
    );
    none += Number(verdict === "no-fault");
    named += Number(verdict === "located" || verdict === "narrowed");
  }
  return { cases, calledNoFault: none / cases, wronglyNamed: named / cases };
}

export interface Slips {
  readonly blunder: string;
  readonly cases: number;
  readonly flagged: number;
  readonly namedFirst: number;
}

/** One of the five first readings is spoiled; spoilings too small to see (3 % and 1 V) are drawn again. */
export function slips(seed: number, cases: number): Slips[] {
  return BLUNDERS.filter((blunder) => blunder !== "still-in-parallel").map((blunder, order) => {
    const random = seededRandom(seed + order);
    let flagged = 0;
    let first = 0;
    for (let done = 0; done < cases; ) {
      const drawn = oneString(random, [10, 1.6e6]);
      const truth = drawTruth(drawn.scenario, random);
      const requests = firstRequests(drawn.on);
      const poles = blunder === "leads-swapped";
      const spoiled = poles ? 1 + Math.floor(4 * random.uniform()) : Math.floor(5 * random.uniform());
      const readings = requests.map((request, i) =>
        i === spoiled ? measureWithBlunder(truth, request, blunder, random) : measure(truth, request, random),
      );
      const honest = Math.abs(exactReading(truth, requests[spoiled]!));
      if (Math.abs(readings[spoiled]!.value - honest) < 0.03 * honest + 1) continue;
      const finding = locate(visitOf(drawn.scenario, readings));
      done++;
      flagged += Number(finding.verdict === "inconsistent");
      first += Number(finding.suspect[0]?.reading === spoiled);
    }
    return { blunder, cases, flagged: flagged / cases, namedFirst: first / cases };
  });
}
