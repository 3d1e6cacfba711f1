import {
  seededRandom,
  type ArrayDescription,
  type ArrayFault,
  type ArrayInstrument,
  type ArrayString,
  type Pole,
  type Random,
} from "@earthbell/engine";

/**
 * A joined circuit with one pole led to earth through a known resistor, and a clamp around both conductors of one string.
 *
 * alike    strings of one length, voltage and even leakage: where the finder's closed form claims to hold
 * unlike   modules and leaks unequal, home runs with resistance: for the nodal analysis only
 */
export interface ClampCase {
  readonly id: string;
  readonly kind: "alike" | "unlike";
  readonly array: ArrayDescription;
  /** The resistor, as a meter of its resistance from the pole to earth. */
  readonly resistor: Extract<ArrayInstrument, { kind: "voltmeter" }> & { readonly pole: Pole };
  /** Id of the string inside the clamp. */
  readonly clamped: string;
  /** Healthy leakage of one module where they are alike [S]. */
  readonly moduleLeakS: number;
}

const OF_A_KIND = 60;

export function generatedClamps(seed: number): ClampCase[] {
  const random = seededRandom(seed);
  return (["alike", "unlike"] as const).flatMap((kind) =>
    Array.from({ length: OF_A_KIND }, (_, index) => drawCase(random, kind, `clamp${kind}${index}`)),
  );
}

function drawCase(random: Random, kind: ClampCase["kind"], id: string): ClampCase {
  const count = pick(random, [2, 2, 3, 4, 6, 8, 12, 24]);
  const modules = whole(random, 2, count > 8 ? 10 : 26);
  const moduleV = 30 + 20 * random.uniform();
  const moduleLeakS = 10 ** -(6.2 + 3 * random.uniform());
  const spread = kind === "alike" ? 0 : 0.02;
  const strings = Array.from({ length: count }, (_, index): ArrayString => {
    const isolated = index > 1 && random.uniform() < 0.15;
    return {
      id: `S${index}`,
      modules: Array.from({ length: modules }, () => ({
        kind: "linear",
        openCircuitV: moduleV * (1 + spread * random.normal()),
        sourceOhms: 0.6,
      })),
      substrings: 3,
      moduleLeaksS: Array.from(
        { length: modules },
        () => moduleLeakS * 10 ** (10 * spread * random.normal()),
      ),
      ...(kind === "alike"
        ? {}
        : { homeRunOhms: { positive: random.uniform(), negative: random.uniform() } }),
      ...(isolated ? { fuseOut: { positive: true, negative: true } } : {}),
    };
  });
  const joined = strings.filter(({ fuseOut }) => fuseOut === undefined);
  // Damage in the clamped string in every other case.
  const faults = Array.from({ length: whole(random, 0, 3) }, () => drawFault(random, joined, modules));
  const hit = faults.flatMap(({ place }) => ("string" in place ? [place.string] : []));
  const clamped = hit.length > 0 && random.uniform() < 0.5 ? pick(random, hit) : pick(random, joined).id;
  const pole = pick(random, ["+", "-"] as const);
  const earthed = random.uniform() < 0.4;
  return {
    id,
    kind,
    array: {
      strings,
      faults,
      ...(earthed
        ? { earthing: { pole: pick(random, ["+", "-"] as const), ohms: decades(random, 3, 6) } }
        : {}),
    },
    resistor: { kind: "voltmeter", from: { bus: pole }, to: "earth", inputOhms: decades(random, 4, 6), pole },
    clamped,
    moduleLeakS,
  };
}

function drawFault(random: Random, joined: readonly ArrayString[], modules: number): ArrayFault {
  // Beside less than some tens of kilohms the string's own source resistance shows, which the closed form leaves out.
  const ohms = decades(random, 4.5, 7);
  if (random.uniform() < 0.15) return { place: { bus: pick(random, ["+", "-"] as const) }, ohms };
  const node = whole(random, 0, modules);
  const at = node === modules ? node : node + whole(random, 0, 2) / 3;
  return { place: { string: pick(random, joined).id, at }, ohms };
}

function whole(random: Random, low: number, high: number): number {
  return low + Math.floor((high - low + 1) * random.uniform());
}

function decades(random: Random, low: number, high: number): number {
  return 10 ** (low + (high - low) * random.uniform());
}

function pick<Item>(random: Random, items: readonly Item[]): Item {
  return items[whole(random, 0, items.length - 1)]!;
}
