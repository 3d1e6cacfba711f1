import {
  type DrawnScenario,
  drawTruth,
  firstRequests,
  locate,
  measure,
  oneString,
  type PlaceProbability,
  type Random,
  seededRandom,
  visitOf,
} from "@earthbell/engine";
import { trueAt, walk } from "./closed-loop.ts";

export interface ClosedLoop {
  readonly name: string;
  readonly cases: number;
  /** The likeliest place is a damaged one. */
  readonly exact: number;
  /** Every damaged place is among as many of the likeliest. */
  readonly all: number;
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
  const sum = { exact: 0, all: 0, string: 0, openings: 0, isolations: 0, allowed: 0, minutes: 0, several: 0 };
  const milliseconds: number[] = [];
  for (let i = 0; i < cases; i++) {
    const drawn = draw(random);
    const done = walk(drawn, random);
    const damaged = trueAt(drawn);
    const named = done.last.places.slice(0, damaged.length);
    sum.exact += Number(damaged.some((place) => isNamed(place, named.slice(0, 1))));
    sum.all += Number(damaged.every((place) => isNamed(place, named)));
    sum.string += Number(named[0]?.string === damaged[0]?.string);
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
    all: share(sum.all),
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

function isNamed(
  wanted: { readonly string: string; readonly at: number },
  named: readonly PlaceProbability[],
): boolean {
  return named.some(({ string, at }) => string === wanted.string && Math.abs(at - wanted.at) < 1e-6);
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
