import {
  DEFAULT_PLACE_WEIGHTS,
  type DrawnScenario,
  type Finding,
  type PlaceWeights,
  type Random,
  drawTruth,
  firstRequests,
  locate,
  measure,
  oneString,
  seededRandom,
  visitOf,
} from "@earthbell/engine";
import { trueAt } from "./closed-loop.ts";

/** Every place alike, as `oneString` draws the truth; a finder told so names more places rightly than any other can. */
const ALIKE: PlaceWeights = { connector: 1, inModule: 2, homeRun: 1, combiner: 1 };
const LEVELS = [0.5, 0.8, 0.9, 0.95] as const;
/** Stated probabilities are gathered in tenths. */
const BINS = 10;

/** How the truth's place is drawn: every place alike, or as the weights say that the finder holds before any reading. */
export type DrawnBy = "alike" | "weights";

export interface FirstReadings {
  readonly ohms: readonly [number, number];
  readonly drawnBy: DrawnBy;
  readonly cases: number;
  readonly exact: number;
  readonly withinOne: number;
  readonly handExact: number;
  readonly handWithinOne: number;
  /** The same engine told how the truth was drawn: the most that the readings hold. */
  readonly boundExact: number;
  readonly boundWithinOne: number;
  readonly setSize: number;
  readonly calledNoFault: number;
  /** Credible sets by level: how many hold the truth, and what they claim to hold. */
  readonly sets: readonly CredibleSets[];
  /** Places by the probability stated for them, in tenths: mean stated and share that were damaged. */
  readonly reliability: readonly Bin[];
}

export interface CredibleSets {
  readonly level: number;
  /** Sets of whole places, as a finding gives them. */
  readonly whole: number;
  readonly claimed: number;
  /** The last place counted only by the share of it that the level needs: must hold exactly the level. */
  readonly trimmed: number;
}

export interface Bin {
  readonly places: number;
  readonly stated: number;
  readonly damaged: number;
}

interface Score {
  readonly ours: Hit;
  readonly hand: Hit;
  readonly bound: Hit;
  readonly setSize: number;
  readonly none: number;
  readonly sets: readonly Omit<CredibleSets, "level">[];
  readonly stated: readonly { readonly probability: number; readonly damaged: boolean }[];
}
interface Hit {
  readonly exact: number;
  readonly near: number;
}

export function firstReadings(
  seed: number,
  cases: number,
  ohms: readonly [number, number],
  drawnBy: DrawnBy = "alike",
): FirstReadings {
  const random = seededRandom(seed);
  const scores = Array.from({ length: cases }, () => scoreFirst(random, ohms, drawnBy));
  const mean = (pick: (score: Score) => number): number =>
    scores.reduce((sum, score) => sum + pick(score), 0) / cases;
  return {
    ohms,
    drawnBy,
    cases,
    exact: mean(({ ours }) => ours.exact),
    withinOne: mean(({ ours }) => ours.near),
    handExact: mean(({ hand }) => hand.exact),
    handWithinOne: mean(({ hand }) => hand.near),
    boundExact: mean(({ bound }) => bound.exact),
    boundWithinOne: mean(({ bound }) => bound.near),
    setSize: mean(({ setSize }) => setSize),
    calledNoFault: mean(({ none }) => none),
    sets: LEVELS.map((level, i) => ({
      level,
      whole: mean(({ sets }) => sets[i]!.whole),
      claimed: mean(({ sets }) => sets[i]!.claimed),
      trimmed: mean(({ sets }) => sets[i]!.trimmed),
    })),
    reliability: binned(scores.flatMap(({ stated }) => stated)),
  };
}

/** One drawn string, its first five readings, and how each method names the place. */
function scoreFirst(random: Random, ohms: readonly [number, number], drawnBy: DrawnBy): Score {
  const drawn = drawnBy === "alike" ? oneString(random, ohms) : byWeights(oneString(random, ohms), random);
  const truth = drawTruth(drawn.scenario, random);
  const requests = firstRequests(drawn.on);
  const visit = visitOf(
    drawn.scenario,
    requests.map((request) => measure(truth, request, random)),
  );
  const finding = locate(visit);
  const { at } = trueAt(drawn)[0]!;
  const byHand = finding.handRule[0]?.at ?? null;
  const places = givenFault(finding);
  const ours = hit(places[0]?.at, at);
  return {
    ours,
    bound: drawnBy === "weights" ? ours : hit(locate({ ...visit, priors: ALIKE }).places[0]?.at, at),
    hand: hit(byHand === null ? undefined : Math.round(byHand * 3) / 3, at),
    setSize: finding.credible.places.length,
    none: Number(finding.verdict === "no-fault"),
    sets: LEVELS.map((level) => setAt(level, places, at)),
    stated: places.map((place) => ({ probability: place.probability, damaged: isSame(place.at, at) })),
  };
}

/** The drawn string with its fault moved to a place drawn by the finder's own weights. */
function byWeights(drawn: DrawnScenario, random: Random): DrawnScenario {
  const { modules } = drawn.scenario.strings[0]!;
  const { connector, inModule, homeRun } = DEFAULT_PLACE_WEIGHTS;
  const weights = Array.from({ length: 3 * modules + 1 }, (_, third) =>
    third % (3 * modules) === 0 ? homeRun : third % 3 === 0 ? connector : inModule / 2,
  );
  let rest = random.uniform() * weights.reduce((sum, weight) => sum + weight, 0);
  const third = weights.findIndex((weight) => (rest -= weight) < 0);
  const faults = drawn.scenario.faults.map((fault) => ({ ...fault, at: third / 3 }));
  return { ...drawn, scenario: { ...drawn.scenario, faults } };
}

const isSame = (at: number, wanted: number): boolean => Math.abs(at - wanted) < 1e-6;

function hit(at: number | undefined, wanted: number): Hit {
  const distance = at === undefined ? Infinity : Math.abs(at - wanted);
  return { exact: Number(distance < 1e-6), near: Number(distance < 1 + 1e-6) };
}

/** Places as the finding ranks them, given that there is a fault. */
function givenFault(finding: Finding): { readonly at: number; readonly probability: number }[] {
  const fault = finding.hypotheses.reduce(
    (sum, { faults, probability }) => sum + (faults > 0 ? probability : 0),
    0,
  );
  return finding.places.map(({ at, probability }) => ({ at, probability: probability / fault }));
}

function setAt(
  level: number,
  places: readonly { readonly at: number; readonly probability: number }[],
  truth: number,
): Omit<CredibleSets, "level"> {
  let claimed = 0;
  for (const { at, probability } of places) {
    const needed = Math.min(1, (level - claimed) / probability);
    claimed += probability;
    if (isSame(at, truth)) return { whole: 1, claimed: claimedAt(level, places), trimmed: needed };
    if (claimed >= level) break;
  }
  return { whole: 0, claimed: claimedAt(level, places), trimmed: 0 };
}

function claimedAt(level: number, places: readonly { readonly probability: number }[]): number {
  let claimed = 0;
  for (const { probability } of places) {
    if (claimed >= level) break;
    claimed += probability;
  }
  return claimed;
}

function binned(stated: Score["stated"]): Bin[] {
  return Array.from({ length: BINS }, (_, bin) => {
    const own = stated.filter(
      ({ probability }) => Math.min(BINS - 1, Math.floor(probability * BINS)) === bin,
    );
    const mean = (pick: (one: Score["stated"][number]) => number): number =>
      own.reduce((sum, one) => sum + pick(one), 0) / Math.max(1, own.length);
    return {
      places: own.length,
      stated: mean(({ probability }) => probability),
      damaged: mean(({ damaged }) => Number(damaged)),
    };
  });
}
