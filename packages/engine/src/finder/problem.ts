import { configurationsOf, healthyCentroid, type Configuration } from "./configuration.ts";
import { leakTable, type LeakTable, type VoltagePrior } from "./configuration-likelihood.ts";
import { poleEarthOf } from "./functional-earth.ts";
import type { Bench } from "./instruments.ts";
import { clampMeasurements, type CircuitLeak, type ClampMeasurement } from "./leakage-clamp.ts";
import { busIndex, isDark, nodeShares, placesOfString, type Place } from "./places.ts";
import {
  DEFAULT_PLACE_WEIGHTS,
  DEFAULTS,
  LEAKAGE_LOPSIDED,
  LEAKAGE_SPREAD,
  MODULE_LEAKAGE_OHMS,
} from "./priors.ts";
import type { PlaceWeights, Visit } from "./visit.ts";

/** A configuration with its likelihood table and what does not change while hypotheses are tried on it. */
export interface Measured {
  readonly configuration: Configuration;
  readonly table: LeakTable;
  readonly healthyShare: number;
  /** Variance of a place's share from the unknown mismatch of module voltages. */
  readonly mismatchVariance: number;
}

/**
 * Places that every configuration sees alike: one stretch between opened connectors, with the damage that stayed on
 * its side of them. Within a class only the share of the place differs.
 */
export interface PlaceClass {
  readonly string: number;
  /** Per configuration: the place's share there is slope·share + offset; slope NaN means it is not in that circuit. */
  readonly slope: Float64Array;
  readonly offset: Float64Array;
  readonly contains: Uint8Array;
  readonly places: readonly Place[];
  /** Index of each place in the problem's list, and the part of its weight that this class carries. */
  readonly index: Int32Array;
  readonly weight: Float64Array;
}

export interface Problem {
  readonly visit: Visit;
  readonly bench: Bench;
  readonly measured: readonly Measured[];
  readonly clamps: readonly ClampMeasurement[];
  readonly places: readonly Place[];
  /** Weights of places that were used: the visit's own, or the defaults. */
  readonly weights: PlaceWeights;
  readonly classes: readonly PlaceClass[];
  readonly leakageOhms: { readonly min: number; readonly max: number };
  readonly leakageSpread: number;
  readonly lopsided: number;
  /** Open-circuit level per module (or per unit of given module voltage) that the readings imply. */
  readonly level: VoltagePrior;
}

export function problemOf(visit: Visit, bench: Bench): Problem {
  const configurations = configurationsOf(visit);
  const level = voltageLevel(visit, configurations);
  const measured = configurations.map((configuration): Measured => {
    const voltage = voltagePrior(visit, configuration, level);
    const table = leakTable(visit.readings, configuration, bench, voltage, poleEarthOf(visit, configuration));
    const share = Math.min(1, Math.max(0, table.share[table.best.index]!));
    const modules = Math.max(1, configuration.moduleCount / Math.max(1, configuration.parts.length));
    const mismatchVariance = (bench.mismatch ** 2 * Math.max(0.02, share * (1 - share))) / modules;
    return {
      configuration,
      table,
      healthyShare: healthyCentroid(visit.strings, configuration),
      mismatchVariance,
    };
  });
  const weights = weightsOf(visit);
  const places = stringPlaces(visit, weights);
  const wet = bench.wet ? "wet" : "dry";
  const unlike = {
    lopsided: LEAKAGE_LOPSIDED[wet],
    spread: measured.length > 1 || visit.strings.length > 1 ? LEAKAGE_SPREAD[wet] : 0,
  };
  return {
    visit,
    bench,
    measured,
    clamps: clampMeasurements(visit, bench, level.volts, unlike, (circuit) => circuitLeak(measured, circuit)),
    places: [...places, ...busPlaces(visit, weights.combiner)],
    weights,
    classes: classesOf(visit, measured, places, weights.combiner),
    leakageOhms: MODULE_LEAKAGE_OHMS[wet],
    leakageSpread: unlike.spread,
    lopsided: unlike.lopsided,
    level,
  };
}

/** All leaks of a circuit as its own readings put them; mid-string, and next to none, where it was not read. */
export function circuitLeak(measured: readonly Measured[], circuit: string): CircuitLeak {
  const own = measured.find(({ configuration }) => configuration.on === circuit);
  if (!own) return { siemens: 0, share: 0.5 };
  const { share, best } = own.table;
  return { siemens: Math.exp(best.lnG), share: share[best.index]! };
}

function stringPlaces(visit: Visit, weights: PlaceWeights): Place[] {
  return visit.strings.flatMap((spec, index) =>
    placesOfString(spec, index, spec.substrings ?? DEFAULTS.substrings, weights),
  );
}

/** The visit's own weights, unless they leave this wiring without a possible place. */
function weightsOf(visit: Visit): PlaceWeights {
  if (!visit.priors) return DEFAULT_PLACE_WEIGHTS;
  const all = [...stringPlaces(visit, visit.priors), ...busPlaces(visit, visit.priors.combiner)];
  return all.some(({ weight }) => weight > 0) ? visit.priors : DEFAULT_PLACE_WEIGHTS;
}

/** The voltage of one module as the + to − readings imply it, else as the file expects it, else a wide guess. */
function voltageLevel(visit: Visit, configurations: readonly Configuration[]): VoltagePrior {
  const levels: number[] = [];
  // Modules that give no voltage say nothing of those that do.
  const lit = configurations.filter(({ parts: [part] }) => {
    return part === undefined || !isDark(visit.strings[part.string]!, part.fromNode, part.toNode);
  });
  for (const configuration of lit)
    for (const index of configuration.readings) {
      const reading = visit.readings[index]!;
      if (reading.kind === "voltage" && reading.to !== "earth" && reading.value > 0)
        levels.push(reading.value / configuration.nominal);
    }
  if (levels.length > 0) {
    const sorted = levels.toSorted((a, b) => a - b);
    return { volts: sorted[sorted.length >> 1]!, relativeSd: 0.012 };
  }
  const given = visit.strings.some((spec) => spec.moduleVoc !== undefined || spec.moduleVocs !== undefined);
  return given ? { volts: 1, relativeSd: 0.04 } : { volts: 42, relativeSd: 0.35 };
}

function voltagePrior(visit: Visit, configuration: Configuration, level: VoltagePrior): VoltagePrior {
  const own = configuration.readings.some((index) => {
    const reading = visit.readings[index]!;
    return reading.kind === "voltage" && reading.to !== "earth";
  });
  // A measured + to − wins over what other configurations suggest.
  return {
    volts: level.volts * configuration.nominal,
    relativeSd: own ? Math.max(0.3, level.relativeSd) : level.relativeSd,
  };
}

function busPlaces(visit: Visit, weight: number): Place[] {
  return visit.circuits.flatMap((circuit, order) => {
    const modules = visit.strings.find((spec) => spec.id === circuit.strings[0])?.modules ?? 1;
    return [0, 1].map(
      (share): Place => ({
        string: busIndex(order),
        stringId: circuit.id,
        at: share * modules,
        share,
        what: "combiner",
        label: `${circuit.id}: ${share === 0 ? "negative" : "positive"} side of the combiner or the cable behind it`,
        weight,
      }),
    );
  });
}

function classesOf(
  visit: Visit,
  measured: readonly Measured[],
  places: readonly Place[],
  busWeight: number,
): PlaceClass[] {
  const classes: PlaceClass[] = [];
  visit.strings.forEach((spec, string) => {
    const shares = nodeShares(spec);
    const opened = openedNodes(measured, string);
    const bounds = [...new Set([0, ...opened, spec.modules])].sort((a, b) => a - b);
    const own = places
      .map((place, index) => ({ place, index }))
      .filter(({ place }) => place.string === string);
    for (let i = 1; i < bounds.length; i++)
      classes.push(stretchClass(measured, string, shares, bounds[i - 1]!, bounds[i]!, own, opened));
    for (const end of [0, spec.modules])
      if (opened.has(end)) classes.push(leftBehindClass(measured, string, own, end));
  });
  visit.circuits.forEach((circuit, order) => {
    const contains = measured.map(({ configuration }) => configuration.on === circuit.id);
    const bus = busPlaces(visit, busWeight);
    const pair = [2 * order, 2 * order + 1];
    classes.push({
      string: busIndex(order),
      slope: Float64Array.from(measured, () => 1),
      offset: new Float64Array(measured.length),
      contains: Uint8Array.from(contains, Number),
      places: pair.map((i) => bus[i]!),
      index: Int32Array.from(pair, (i) => places.length + i),
      weight: Float64Array.from(pair, () => busWeight),
    });
  });
  return classes;
}

function openedNodes(measured: readonly Measured[], string: number): Set<number> {
  const nodes = new Set<number>();
  for (const { configuration } of measured)
    for (const part of configuration.parts)
      if (part.string === string && part.cut) nodes.add(part.fromNode).add(part.toNode);
  return nodes;
}

/** Share of an end's damage that goes with the home run when the end connector is opened: a stated guess. */
const GOES_WITH_HOME_RUN = 0.3;

function stretchClass(
  measured: readonly Measured[],
  string: number,
  shares: Float64Array,
  low: number,
  high: number,
  own: readonly { place: Place; index: number }[],
  opened: ReadonlySet<number>,
): PlaceClass {
  const members = own.filter(({ place }) => place.at >= low && place.at <= high);
  const atEnd = (at: number): boolean => at === 0 || at === shares.length - 1;
  const kept = (at: number): number => (!opened.has(at) ? 1 : atEnd(at) ? 1 - GOES_WITH_HOME_RUN : 0.5);
  const slope = new Float64Array(measured.length);
  const offset = new Float64Array(measured.length);
  const contains = new Uint8Array(measured.length);
  measured.forEach(({ configuration }, c) => {
    const part = configuration.parts.find(
      (p) => p.string === string && p.fromNode <= low && p.toNode >= high,
    );
    if (!part) return;
    const from = shares[part.fromNode]!;
    const span = shares[part.toNode]! - from;
    contains[c] = 1;
    slope[c] = 1 / span;
    offset[c] = -from / span;
  });
  return {
    string,
    slope,
    offset,
    contains,
    places: members.map(({ place }) => place),
    index: Int32Array.from(members, ({ index }) => index),
    weight: Float64Array.from(members, ({ place }) => place.weight * kept(place.at)),
  };
}

/** Damage that stayed with the home run when the end connector was opened: only uncut readings see it. */
function leftBehindClass(
  measured: readonly Measured[],
  string: number,
  own: readonly { place: Place; index: number }[],
  end: number,
): PlaceClass {
  const { place, index } = own.find((candidate) => candidate.place.at === end)!;
  const contains = measured.map(({ configuration }) =>
    configuration.parts.some((part) => part.string === string && !part.cut),
  );
  return {
    string,
    slope: Float64Array.from(measured, () => 1),
    offset: new Float64Array(measured.length),
    contains: Uint8Array.from(contains, Number),
    places: [place],
    index: Int32Array.of(index),
    weight: Float64Array.of(place.weight * GOES_WITH_HOME_RUN),
  };
}
