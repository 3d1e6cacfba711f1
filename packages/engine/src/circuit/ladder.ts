/**
 * A string of linear sources with leaks is a ladder: one pass along it leaves the exact relation between its two ends.
 *
 * With e the potential to earth and I the current towards the positive end, from the lower end (e₀, I₀) to the upper
 *   e = e₀ + b·e₀ + a·I₀ + v        I = I₀ + c·e₀ + d·I₀ + i
 * A source piece adds volts − ohms·I to e; a leak takes siemens·e from I. The ones are kept out of b and d so that a leak of
 * nanosiemens is not lost beside them. This is network.ts with the inner nodes eliminated by hand: same circuit, work proportional
 * to its length, for the thousands of readings of a simulation. Proven equal to `solveArray` in read-array.test.ts.
 */
export interface TwoPort {
  readonly b: number;
  readonly a: number;
  readonly v: number;
  readonly c: number;
  readonly d: number;
  readonly i: number;
}

/** Walks up a string, rung by rung. */
export class LadderWalk {
  #b = 0;
  #a = 0;
  #v = 0;
  #c = 0;
  #d = 0;
  #i = 0;

  /** A piece of source in the string: `volts` behind `ohms`. */
  source(volts: number, ohms: number): void {
    this.#b -= ohms * this.#c;
    this.#a -= ohms * (1 + this.#d);
    this.#v += volts - ohms * this.#i;
  }

  /** A path to earth at the point reached. */
  leak(siemens: number): void {
    this.#c -= siemens * (1 + this.#b);
    this.#d -= siemens * this.#a;
    this.#i -= siemens * this.#v;
  }

  end(): TwoPort {
    return { b: this.#b, a: this.#a, v: this.#v, c: this.#c, d: this.#d, i: this.#i };
  }
}

/** What is connected at the terminals: conductances to earth and across, and currents pushed in by a tester. */
export interface TerminalLoad {
  readonly negativeS: number;
  readonly positiveS: number;
  readonly acrossS: number;
  readonly negativeA: number;
  readonly positiveA: number;
}

export interface TerminalState {
  /** Potentials to earth [V]. */
  readonly negativeV: number;
  readonly positiveV: number;
  /** Current from the ladders to earth, terminals not counted [A]. */
  readonly leakA: number;
}

/**
 * State of the two terminals that one ladder, or several joined at both ends, share.
 * @returns null where they are not defined: nothing leaks, or stiff ladders of unequal voltage are joined.
 */
export function terminalState(ladders: readonly TwoPort[], load: TerminalLoad): TerminalState | null {
  const solved = ladders.length === 1 ? solveOne(ladders[0]!, load) : solveJoined(ladders, load);
  if (solved === null || !Number.isFinite(solved.negativeV) || !Number.isFinite(solved.positiveV))
    return null;
  return solved;
}

/** One ladder: unknowns e₀ and I₀, which also covers a stiff one. */
function solveOne({ b, a, v, c, d, i }: TwoPort, load: TerminalLoad): TerminalState | null {
  // Lower terminal: I₀ + negativeS·e₀ − acrossS·(e − e₀) = negativeA.
  // Both terminals together: (I − I₀) − negativeS·e₀ − positiveS·e + negativeA + positiveA = 0.
  const { negativeS, positiveS, acrossS, negativeA, positiveA } = load;
  const solved = solveTwo(
    [negativeS - acrossS * b, 1 - acrossS * a, negativeA + acrossS * v],
    [c - negativeS - positiveS * (1 + b), d - positiveS * a, positiveS * v - i - negativeA - positiveA],
  );
  if (solved === null) return null;
  const [negativeV, currentA] = solved;
  const positiveV = negativeV + b * negativeV + a * currentA + v;
  return { negativeV, positiveV, leakA: -(c * negativeV + d * currentA + i) };
}

/** Ladders joined at both ends: unknowns e₀ and the difference between the terminals. */
function solveJoined(ladders: readonly TwoPort[], load: TerminalLoad): TerminalState | null {
  const { negativeS, positiveS, acrossS, negativeA, positiveA } = load;
  let [lowE, lowDifference, lowRight] = [negativeS, -acrossS, negativeA];
  let [sumE, sumDifference, sumRight] = [-negativeS - positiveS, -positiveS, -negativeA - positiveA];
  for (const { b, a, v, c, d, i } of ladders) {
    // I₀ = (difference − b·e₀ − v) / a
    lowE -= b / a;
    lowDifference += 1 / a;
    lowRight += v / a;
    sumE += c - (d * b) / a;
    sumDifference += d / a;
    sumRight += (d * v) / a - i;
  }
  const solved = solveTwo([lowE, lowDifference, lowRight], [sumE, sumDifference, sumRight]);
  if (solved === null) return null;
  const [negativeV, difference] = solved;
  let leakA = 0;
  for (const { b, a, v, c, d, i } of ladders) {
    const currentA = (difference - b * negativeV - v) / a;
    leakA -= c * negativeV + d * currentA + i;
  }
  return { negativeV, positiveV: negativeV + difference, leakA };
}

type Equation = readonly [first: number, second: number, right: number];

function solveTwo(one: Equation, other: Equation): readonly [number, number] | null {
  const determinant = one[0] * other[1] - one[1] * other[0];
  if (determinant === 0) return null;
  return [
    (one[2] * other[1] - one[1] * other[2]) / determinant,
    (one[0] * other[2] - one[2] * other[0]) / determinant,
  ];
}
