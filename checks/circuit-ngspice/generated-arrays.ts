import {
  seededRandom,
  type ArrayDescription,
  type ArrayFault,
  type ArrayInstrument,
  type ArrayPlace,
  type ArrayString,
  type ModuleSource,
  type Pole,
  type Probe,
  type Random,
} from "@earthbell/engine";

/** An array drawn from a seed, with the instrument on it. */
export interface GeneratedCase {
  readonly id: string;
  readonly family: Family;
  readonly array: ArrayDescription;
  readonly instrument: ArrayInstrument;
}

/**
 * floating-string     one string, unequal modules, uneven leaks, up to three faults; stiff or with source resistance
 * opened-string       the same with connectors apart, one segment measured
 * parallel-strings    2 to 24 alike strings at a combiner, some isolated, bus faults
 * wired-array         functional earth, load, blocking diodes, single fuses out, unlike strings: beyond the closed forms
 * lit-string          one-diode modules with bypass diodes, floating: the closed forms with the voltages of the moment
 * lit-array           one-diode strings under load with earth and faults: beyond the closed forms
 */
export type Family =
  | "floating-string"
  | "opened-string"
  | "parallel-strings"
  | "wired-array"
  | "lit-string"
  | "lit-array";

const COUNTS: Readonly<Record<Family, number>> = {
  "floating-string": 80,
  "opened-string": 40,
  "parallel-strings": 40,
  "wired-array": 40,
  "lit-string": 20,
  "lit-array": 20,
};

export function generatedCases(seed: number): GeneratedCase[] {
  const random = seededRandom(seed);
  const cases: GeneratedCase[] = [];
  for (const family of Object.keys(COUNTS) as Family[])
    for (let index = 0; index < COUNTS[family]; index++) {
      const id = `${family.replace("-", "")}${index}`;
      cases.push({ id, family, ...new Draw(random).case(family) });
    }
  return cases;
}

class Draw {
  private readonly random: Random;

  constructor(random: Random) {
    this.random = random;
  }

  case(family: Family): { array: ArrayDescription; instrument: ArrayInstrument } {
    switch (family) {
      case "floating-string":
        return this.floatingString();
      case "opened-string":
        return this.openedString();
      case "parallel-strings":
        return this.parallelStrings();
      case "wired-array":
        return this.wiredArray();
      case "lit-string":
        return this.litString();
      case "lit-array":
        return this.litArray();
    }
  }

  private floatingString() {
    const sourceOhms = this.pick([0, 0.6]);
    const string = {
      ...this.string("A", this.whole(2, 26), sourceOhms, 0.03),
      fuseOut: { positive: true, negative: true },
    };
    const faults = this.many(0, 3, () => this.fault(string, sourceOhms === 0 ? 1 : 4.5));
    const ends = this.ends({ string: "A", homeRun: "-" }, { string: "A", homeRun: "+" });
    return { array: { strings: [string], faults }, instrument: ends };
  }

  private openedString() {
    const modules = this.whole(4, 26);
    const openNodes = [...new Set([0, modules, ...this.many(1, 3, () => this.whole(0, modules))])].sort(
      (a, b) => a - b,
    );
    const string = { ...this.string("A", modules, 0, 0.03), openNodes };
    const faults = this.many(0, 3, () => this.fault(string, 1));
    const low = this.whole(0, openNodes.length - 2);
    const ends = this.ends(
      { string: "A", at: openNodes[low]!, side: "above" },
      { string: "A", at: openNodes[low + 1]!, side: "below" },
    );
    return { array: { strings: [string], faults }, instrument: ends };
  }

  private parallelStrings() {
    const count = this.pick([2, 2, 3, 4, 6, 8, 12, 24]);
    const modules = this.whole(2, count > 8 ? 10 : 26);
    const like = this.string("A", modules, 0.6, 0.03);
    const strings = Array.from({ length: count }, (_, index): ArrayString => {
      const leaks = this.string("A", modules, 0.6, 0).moduleLeaksS!;
      const string = { ...like, id: `S${index}`, moduleLeaksS: leaks };
      const isolated = index > 0 && this.random.uniform() < 0.2;
      return isolated ? { ...string, fuseOut: { positive: true, negative: true } } : string;
    });
    const faults = this.many(0, 3, () => this.fault(this.pick(strings), 4.5));
    if (this.random.uniform() < 0.2) faults.push({ place: { bus: this.pole() }, ohms: this.decades(4.5, 7) });
    return { array: { strings, faults }, instrument: this.ends({ bus: "-" }, { bus: "+" }) };
  }

  private wiredArray() {
    const count = this.whole(1, 6);
    const modules = this.whole(2, 16);
    const blocked = this.random.uniform() < 0.4;
    const strings = Array.from({ length: count }, (_, index): ArrayString => {
      const string = this.string(`S${index}`, modules, 0.6, 0.05);
      const fuse = this.random.uniform();
      return {
        ...string,
        ...(blocked ? { blockingDiode: { saturationA: 1e-9, slopeV: 0.05 } } : {}),
        ...(index > 0 && fuse < 0.15 ? { fuseOut: { positive: true } } : {}),
        ...(index > 0 && fuse > 0.85 ? { fuseOut: { negative: true } } : {}),
      };
    });
    const faults = this.many(0, 3, () => this.fault(this.pick(strings), 0));
    const array: ArrayDescription = {
      strings,
      faults,
      ...(this.random.uniform() < 0.6
        ? { earthing: { pole: this.pole(), ohms: this.decades(-0.5, 5) } }
        : {}),
      ...(this.random.uniform() < 0.6 ? { loadOhms: this.decades(1, 5) } : {}),
    };
    return { array, instrument: this.ends({ bus: "-" }, { bus: "+" }) };
  }

  private litString() {
    const substrings = this.pick([1, 3]);
    const modules = Array.from({ length: this.whole(2, 10) }, () => this.litModule(substrings));
    const { moduleLeaksS } = this.string("A", modules.length, 0, 0);
    const string: ArrayString = {
      id: "A",
      modules,
      substrings,
      moduleLeaksS: moduleLeaksS!,
      fuseOut: { positive: true, negative: true },
    };
    const faults = this.many(0, 2, () => this.fault(string, 4.5));
    const ends = this.ends({ string: "A", homeRun: "-" }, { string: "A", homeRun: "+" });
    return { array: { strings: [string], faults }, instrument: ends };
  }

  private litArray() {
    const substrings = this.pick([1, 3]);
    const modules = this.whole(2, 6);
    const strings = Array.from(
      { length: this.whole(1, 4) },
      (_, index): ArrayString => ({
        ...this.string(`S${index}`, modules, 0, 0),
        modules: Array.from({ length: modules }, () => this.litModule(substrings)),
        substrings,
      }),
    );
    const faults = this.many(0, 2, () => this.fault(this.pick(strings), -0.5));
    const array: ArrayDescription = {
      strings,
      faults,
      // From a heavy load to near open circuit.
      loadOhms: this.decades(0.8, 4),
      ...(this.random.uniform() < 0.5
        ? { earthing: { pole: this.pole(), ohms: this.decades(-0.5, 3) } }
        : {}),
    };
    return { array, instrument: this.ends({ bus: "-" }, { bus: "+" }) };
  }

  private litModule(substrings: number): ModuleSource {
    return {
      kind: "single-diode",
      lightA: 5 * (0.7 + 0.3 * this.random.uniform()),
      saturationA: 2e-8,
      slopeV: 1.85 * (1 + 0.02 * this.random.normal()),
      seriesOhms: 0.5,
      shuntOhms: 300,
      bypass: { saturationA: 1e-6, slopeV: 0.04 * (4 - substrings) },
    };
  }

  private string(id: string, modules: number, sourceOhms: number, spread: number): ArrayString {
    const voc = 30 + 20 * this.random.uniform();
    const leakDecade = 7.5 + 3 * this.random.uniform();
    return {
      id,
      modules: Array.from({ length: modules }, () => ({
        kind: "linear",
        openCircuitV: voc * (1 + spread * this.random.normal()),
        sourceOhms,
      })),
      substrings: this.pick([1, 3]),
      moduleLeaksS: Array.from({ length: modules }, () => 10 ** -(leakDecade + 0.3 * this.random.normal())),
      homeRunOhms: { positive: this.random.uniform(), negative: this.random.uniform() },
    };
  }

  private fault(string: ArrayString, leastDecade: number): ArrayFault {
    const ohms = this.decades(leastDecade, 7);
    const staysWith = this.pick(["below", "above"] as const);
    return { place: this.place(string), ohms, staysWith };
  }

  private place(string: ArrayString): ArrayPlace {
    const modules = string.modules.length;
    const kind = this.random.uniform();
    if (kind < 0.15) return { string: string.id, homeRun: this.pole(), along: this.random.uniform() };
    const at = this.whole(0, modules);
    if (kind < 0.65 || at === modules) return { string: string.id, at };
    const substrings = string.substrings ?? 1;
    return { string: string.id, at: at + this.whole(0, substrings - 1) / substrings };
  }

  /** A meter to earth, with or without shunt, one across the poles, or a tester. */
  private ends(negative: Probe, positive: Probe): ArrayInstrument {
    const at = this.pick([negative, positive]);
    const kind = this.random.uniform();
    const inputOhms = this.pick([1e6, 1e7]);
    if (kind < 0.35) return { kind: "voltmeter", from: at, to: "earth", inputOhms };
    if (kind < 0.6)
      return { kind: "voltmeter", from: at, to: "earth", inputOhms, shuntOhms: this.decades(4.5, 6) };
    if (kind < 0.7) return { kind: "voltmeter", from: positive, to: negative, inputOhms };
    return {
      kind: "tester",
      at,
      testV: this.pick([250, 500, 1000, -500]),
      seriesOhms: this.pick([1e4, 1e5]),
    };
  }

  private pole(): Pole {
    return this.pick(["+", "-"] as const);
  }

  private whole(low: number, high: number): number {
    return low + Math.floor((high - low + 1) * this.random.uniform());
  }

  private decades(low: number, high: number): number {
    return 10 ** (low + (high - low) * this.random.uniform());
  }

  private pick<Item>(items: readonly Item[]): Item {
    return items[this.whole(0, items.length - 1)]!;
  }

  private many<Item>(low: number, high: number, draw: () => Item): Item[] {
    return Array.from({ length: this.whole(low, high) }, draw);
  }
}
