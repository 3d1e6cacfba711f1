import { DEFAULT_PLACE_WEIGHTS } from "./priors.ts";
import type { PlaceWeights, StringSpec } from "./visit.ts";

/** One place where damage can be, with its weight before any reading. */
export interface Place {
  /** Index of the string in the visit; below zero for the combiner bus of a circuit (`busIndex`). */
  readonly string: number;
  readonly stringId: string;
  /** Modules from the negative end; a fraction is a sub-string boundary inside a module. */
  readonly at: number;
  /** `at` as a share of the string's open-circuit voltage, 0 at the negative end, 1 at the positive. */
  readonly share: number;
  readonly what: "junction" | "module" | "home-run" | "combiner";
  readonly label: string;
  readonly weight: number;
}

/** Stands for a string's index where a leak is on the combiner bus: −1 for the visit's first circuit, −2 for the second. */
export function busIndex(circuit: number): number {
  return -1 - circuit;
}

/** A dark module is taken to hold this share of the brightest one's voltage, so that its ends stay two places. */
const DARK = 1e-3;

/** Expected voltage of each module from the negative end, or 1 for each where only their number is known. */
export function moduleVolts(spec: StringSpec): readonly number[] {
  const brightest = Math.max(0, ...(spec.moduleVocs ?? []));
  if (brightest === 0) return Array.from({ length: spec.modules }, () => spec.moduleVoc ?? 1);
  return spec.moduleVocs!.map((volts) => Math.max(volts, DARK * brightest));
}

/** Whether modules are all given as giving no voltage, beside others that give some. */
export function isDark({ moduleVocs = [] }: StringSpec, fromNode: number, toNode: number): boolean {
  const given = moduleVocs.slice(fromNode, toNode);
  return given.length > 0 && given.every((volts) => volts === 0) && moduleVocs.some((volts) => volts > 0);
}

/** Share of a string's voltage below each node 0…N (equal modules unless their voltages are given). */
export function nodeShares(spec: StringSpec): Float64Array {
  const shares = new Float64Array(spec.modules + 1);
  const volts = moduleVolts(spec);
  let sum = 0;
  for (let node = 1; node <= spec.modules; node++) {
    sum += volts[node - 1]!;
    shares[node] = sum;
  }
  for (let node = 0; node <= spec.modules; node++) shares[node]! /= sum;
  return shares;
}

/**
 * Every place of one string, from the negative end. The two ends gather what no voltage can tell apart: the end
 * connector and the home-run cable behind it share one potential.
 */
export function placesOfString(
  spec: StringSpec,
  index: number,
  substrings: number,
  weights: PlaceWeights = DEFAULT_PLACE_WEIGHTS,
): Place[] {
  const shares = nodeShares(spec);
  const places: Place[] = [];
  const add = (at: number, share: number, what: Place["what"], label: string, weight: number): void => {
    places.push({ string: index, stringId: spec.id, at, share, what, label, weight });
  };
  for (let node = 0; node <= spec.modules; node++) {
    const share = shares[node]!;
    if (node === 0)
      add(0, 0, "home-run", `${spec.id}: negative end, end connector or home-run cable`, weights.homeRun);
    else if (node === spec.modules)
      add(node, 1, "home-run", `${spec.id}: positive end, end connector or home-run cable`, weights.homeRun);
    else
      add(
        node,
        share,
        "junction",
        `${spec.id}: connectors between modules ${String(node)} and ${String(node + 1)}`,
        weights.connector,
      );
    if (node === spec.modules) break;
    for (let part = 1; part < substrings; part++) {
      const inside = part / substrings;
      const at = node + inside;
      const label = `${spec.id}: inside module ${String(node + 1)}, ${String(part)}/${String(substrings)} of the way up`;
      add(
        at,
        share + inside * (shares[node + 1]! - share),
        "module",
        label,
        weights.inModule / (substrings - 1),
      );
    }
  }
  return places;
}
