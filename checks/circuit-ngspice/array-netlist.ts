import type {
  ArrayDescription,
  ArrayInstrument,
  ArrayString,
  DiodeCurve,
  ModuleSource,
  Pole,
  Probe,
} from "@earthbell/engine";
import type { SpiceCircuit } from "./ngspice.ts";

/** What to read off a solved array, besides the instrument. */
export type Wanted =
  | { readonly kind: "reading" }
  | { readonly kind: "potential"; readonly probe: Probe }
  | { readonly kind: "home-run-current"; readonly string: string; readonly pole: Pole }
  /** What a clamp around both home runs of a string shows. */
  | { readonly kind: "string-leakage"; readonly string: string }
  | { readonly kind: "earthing-current" };

/** kT/q at 27 °C with the constants of ngspice 39 (k 1.38064852e-23 J/K, q 1.6021766208e-19 C). */
const THERMAL_V = (1.38064852e-23 * 300.15) / 1.6021766208e-19;

/** Holds a home run that hangs free once its connector is open; ngspice needs every node to have a path to earth [Ω]. */
const HOLDING_OHMS = 1e9;

/**
 * Writes a described array as a SPICE netlist. On purpose it does not use the engine's own list of branches, so that a wrong
 * connection there would show; only the description of the array is shared.
 */
export function arrayNetlist(
  id: string,
  array: ArrayDescription,
  instrument: ArrayInstrument | undefined,
  wanted: readonly Wanted[],
): SpiceCircuit {
  const writer = new NetlistWriter(id);
  for (const string of array.strings) writer.string(string, array);
  for (const { place, ohms } of array.faults)
    if ("bus" in place) writer.resistor(writer.bus(place.bus), "0", ohms);
  if (array.earthing !== undefined) {
    writer.ammeter("earthing", writer.bus(array.earthing.pole), "fel");
    writer.resistor(writer.node("fel"), "0", array.earthing.ohms);
  }
  if (array.loadOhms !== undefined) writer.resistor(writer.bus("+"), writer.bus("-"), array.loadOhms);
  if (instrument !== undefined) writer.instrument(instrument, array);
  return {
    id,
    elements: writer.elements,
    wanted: wanted.map((one) => writer.expression(one, array, instrument)),
  };
}

class NetlistWriter {
  readonly elements: string[] = [];
  private readonly id: string;
  private readonly models = new Map<string, string>();

  constructor(id: string) {
    this.id = id;
  }

  node(name: string): string {
    return name === "0" ? "0" : `${name}_${this.id}`;
  }

  bus(pole: Pole): string {
    return this.node(pole === "+" ? "busp" : "busn");
  }

  resistor(a: string, b: string, ohms: number): void {
    // ngspice turns 0 Ω into a small resistance of its own choice; a source of 0 V is exact.
    if (ohms === 0) this.element("v", `${a} ${b} dc 0`);
    else this.element("r", `${a} ${b} ${ohms}`);
  }

  /** A source of 0 V whose current can be printed. */
  ammeter(name: string, from: string, to: string): void {
    this.elements.push(`v${name}_${this.id} ${from} ${this.node(to)} dc 0`);
  }

  string(string: ArrayString, array: ArrayDescription): void {
    const { id, modules } = string;
    const taps = this.levels(string, array);
    for (const { place, ohms, staysWith } of array.faults) {
      if (!("string" in place) || place.string !== id || !("at" in place)) continue;
      this.resistor(this.stringNode(string, place.at, staysWith ?? "below"), "0", ohms);
    }
    modules.forEach((source, module) => {
      const leakS = string.moduleLeaksS?.[module] ?? 0;
      if (leakS > 0) {
        this.resistor(this.stringNode(string, module, "above"), "0", 2 / leakS);
        this.resistor(this.stringNode(string, module + 1, "below"), "0", 2 / leakS);
      }
      const inside = taps.filter((level) => level >= module && level <= module + 1);
      for (let piece = 1; piece < inside.length; piece++) {
        const [low, high] = [inside[piece - 1]!, inside[piece]!];
        this.cells(
          this.stringNode(string, low, "above"),
          this.stringNode(string, high, "below"),
          source,
          high - low,
        );
      }
      this.bypasses(string, module, source);
    });
    this.lead(string, "-", array);
    this.lead(string, "+", array);
  }

  private levels(string: ArrayString, array: ArrayDescription): number[] {
    const levels = new Set<number>();
    const substrings = string.substrings ?? 1;
    for (let module = 0; module < string.modules.length; module++)
      for (let tap = 0; tap <= substrings; tap++) levels.add(module + tap / substrings);
    for (const { place } of array.faults)
      if ("at" in place && place.string === string.id) levels.add(place.at);
    return [...levels].sort((a, b) => a - b);
  }

  private stringNode(string: ArrayString, at: number, side: "below" | "above"): string {
    const name = `${string.id.toLowerCase()}x${String(at).replace(".", "p").replace("-", "m")}`;
    return this.node(
      string.openNodes?.includes(at) === true ? `${name}${side === "below" ? "b" : "a"}` : name,
    );
  }

  private cells(low: string, high: string, source: ModuleSource, share: number): void {
    const inner = `i${this.elements.length}_${this.id}`;
    if (source.kind === "linear") {
      if (source.sourceOhms === 0) {
        this.element("v", `${high} ${low} dc ${source.openCircuitV * share}`);
        return;
      }
      this.element("v", `${inner} ${low} dc ${source.openCircuitV * share}`);
      this.resistor(inner, high, source.sourceOhms * share);
      return;
    }
    this.element("i", `${low} ${inner} dc ${source.lightA}`);
    this.diode(inner, low, { saturationA: source.saturationA, slopeV: source.slopeV * share });
    this.resistor(inner, low, source.shuntOhms * share);
    this.resistor(inner, high, source.seriesOhms * share);
  }

  private bypasses(string: ArrayString, module: number, source: ModuleSource): void {
    if (source.kind !== "single-diode" || source.bypass === undefined) return;
    const substrings = string.substrings ?? 1;
    for (let tap = 0; tap < substrings; tap++) {
      const high = tap + 1 === substrings ? module + 1 : module + (tap + 1) / substrings;
      const low = this.stringNode(string, module + tap / substrings, "above");
      this.diode(low, this.stringNode(string, high, "below"), source.bypass);
    }
  }

  private diode(anode: string, cathode: string, { saturationA, slopeV }: DiodeCurve): void {
    const key = `${saturationA} ${slopeV}`;
    let model = this.models.get(key);
    if (model === undefined) {
      model = `dm${this.models.size}_${this.id}`;
      this.models.set(key, model);
      this.elements.push(`.model ${model} d(is=${saturationA} n=${slopeV / THERMAL_V})`);
    }
    this.element("d", `${anode} ${cathode} ${model}`);
  }

  /** Home run, its faults, and the way onto the bus. */
  private lead(string: ArrayString, pole: Pole, array: ArrayDescription): void {
    const { homeRunOhms, fuseOut } = string;
    const ohms = (pole === "+" ? homeRunOhms?.positive : homeRunOhms?.negative) ?? 0;
    let from =
      pole === "+"
        ? this.stringNode(string, string.modules.length, "above")
        : this.stringNode(string, 0, "below");
    let done = 0;
    const damaged = array.faults
      .flatMap((fault) =>
        "homeRun" in fault.place && fault.place.string === string.id && fault.place.homeRun === pole
          ? [{ along: fault.place.along ?? 0.5, ohms: fault.ohms }]
          : [],
      )
      .sort((a, b) => a.along - b.along);
    for (const fault of damaged) {
      const spot = `l${this.elements.length}_${this.id}`;
      this.resistor(from, spot, ohms * (fault.along - done));
      this.resistor(spot, "0", fault.ohms);
      from = spot;
      done = fault.along;
    }
    const end = this.leadEnd(string, pole);
    this.resistor(from, end, ohms * (1 - done));
    const atEnd = pole === "+" ? string.modules.length : 0;
    if (string.openNodes?.includes(atEnd) === true) this.resistor(end, "0", HOLDING_OHMS);
    if ((pole === "+" ? fuseOut?.positive : fuseOut?.negative) === true) return;
    const name = `home${pole === "+" ? "p" : "n"}${string.id.toLowerCase()}`;
    if (pole === "-") this.ammeter(name, this.bus("-"), `${string.id.toLowerCase()}endn`);
    else if (string.blockingDiode === undefined) this.ammeter(name, end, "busp");
    else {
      this.ammeter(name, end, `${string.id.toLowerCase()}block`);
      this.diode(this.node(`${string.id.toLowerCase()}block`), this.bus("+"), string.blockingDiode);
    }
  }

  private leadEnd(string: ArrayString, pole: Pole): string {
    return this.node(`${string.id.toLowerCase()}end${pole === "+" ? "p" : "n"}`);
  }

  private probe(probe: Probe, array: ArrayDescription): string {
    if ("bus" in probe) return this.bus(probe.bus);
    const string = array.strings.find(({ id }) => id === probe.string)!;
    return "homeRun" in probe
      ? this.leadEnd(string, probe.homeRun)
      : this.stringNode(string, probe.at, probe.side ?? "below");
  }

  instrument(instrument: ArrayInstrument, array: ArrayDescription): void {
    if (instrument.kind === "voltmeter") {
      const from = this.probe(instrument.from, array);
      const to = instrument.to === "earth" ? "0" : this.probe(instrument.to, array);
      this.resistor(from, to, instrument.inputOhms);
      if (instrument.shuntOhms !== undefined) this.resistor(from, to, instrument.shuntOhms);
      return;
    }
    const at = this.probe(instrument.at, array);
    this.elements.push(`vtester_${this.id} 0 ${this.node("tst")} dc ${-instrument.testV}`);
    this.resistor(this.node("tst"), at, instrument.seriesOhms);
    if (instrument.shortedTo !== undefined) this.resistor(at, this.probe(instrument.shortedTo, array), 1e-3);
  }

  expression(wanted: Wanted, array: ArrayDescription, instrument: ArrayInstrument | undefined): string {
    switch (wanted.kind) {
      case "potential":
        return `v(${this.probe(wanted.probe, array)})`;
      case "home-run-current":
        return this.homeRunCurrent(wanted.string, wanted.pole);
      case "string-leakage":
        return `${this.homeRunCurrent(wanted.string, "-")}-${this.homeRunCurrent(wanted.string, "+")}`;
      case "earthing-current":
        return `i(vearthing_${this.id})`;
      case "reading": {
        if (instrument === undefined) throw new Error(`circuit ${this.id} has no instrument to read`);
        if (instrument.kind === "tester") return `i(vtester_${this.id})`;
        const from = this.probe(instrument.from, array);
        return instrument.to === "earth" ? `v(${from})` : `v(${from})-v(${this.probe(instrument.to, array)})`;
      }
    }
  }

  private homeRunCurrent(string: string, pole: Pole): string {
    return `i(vhome${pole === "+" ? "p" : "n"}${string.toLowerCase()}_${this.id})`;
  }

  private element(kind: string, rest: string): void {
    this.elements.push(`${kind}${this.elements.length}_${this.id} ${rest}`);
  }
}
