import type { ArrayFault, ArrayString, ModuleSource, Side } from "./array-description.ts";
import { CircuitError, requireWithin } from "./circuit-error.ts";
import { EARTH, type Branch } from "./network.ts";

/** Name of a string's node in the network. Only an opened node has two sides. */
export function stringNode(string: ArrayString, at: number, side: Side = "below"): string {
  requireWithin(`position in string ${string.id}`, at, 0, string.modules.length, "modules");
  const opened = string.openNodes?.includes(at) === true;
  return opened ? `${string.id}:${at}:${side}` : `${string.id}:${at}`;
}

/** Name of the branch that carries the string's current through a module, at the module's lower end. */
export function moduleBranch(string: ArrayString, module: number): string {
  return `${string.id}:module ${module + 1}:piece 0`;
}

/** The string between its two ends: sources, bypass diodes, leaks and the faults at its positions. */
export function stringBranches(string: ArrayString, faults: readonly ArrayFault[]): Branch[] {
  const substrings = string.substrings ?? 1;
  const places = faults.flatMap((fault) => ("at" in fault.place ? [{ at: fault.place.at, fault }] : []));
  for (const node of string.openNodes ?? []) requireOpenable(string, node);
  const branches: Branch[] = [];
  string.modules.forEach((source, module) => {
    const leakS = string.moduleLeaksS?.[module] ?? 0;
    branches.push(
      ...leakOf(`${string.id}:leak ${module + 1} low`, stringNode(string, module, "above"), leakS / 2),
    );
    const stops = stopsInside(module, substrings, places);
    branches.push(...moduleBranches(string, source, module, stops));
    branches.push(
      ...leakOf(`${string.id}:leak ${module + 1} high`, stringNode(string, module + 1), leakS / 2),
    );
  });
  places.forEach(({ at, fault }, index) => {
    const from = stringNode(string, at, fault.staysWith ?? "below");
    const name = `${string.id}:fault ${index}`;
    branches.push({ name, from, to: EARTH, kind: "resistor", ohms: fault.ohms });
  });
  return branches;
}

function requireOpenable(string: ArrayString, node: number): void {
  if (Number.isInteger(node) && node >= 0 && node <= string.modules.length) return;
  throw new CircuitError(
    "CIRCUIT_PLACE_UNKNOWN",
    `string ${string.id} has no connector at ${node}; allowed: whole nodes 0 to ${string.modules.length}`,
  );
}

function leakOf(name: string, from: string, siemens: number): Branch[] {
  requireWithin(name, siemens, 0, Number.MAX_VALUE, "S");
  return siemens === 0 ? [] : [{ name, from, to: EARTH, kind: "resistor", ohms: 1 / siemens }];
}

/** Positions inside a module where something meets it: its sub-string taps and its faults, with both ends. */
function stopsInside(module: number, substrings: number, places: readonly { at: number }[]): number[] {
  const taps = Array.from({ length: substrings + 1 }, (_, tap) => module + tap / substrings);
  const stops = new Set(taps);
  for (const { at } of places) {
    // A tap written as a rounded decimal (7.333) is that tap only if it is equal in double precision; else it is its own place.
    if (at > module && at < module + 1) stops.add(at);
  }
  return [...stops].sort((a, b) => a - b);
}

function moduleBranches(
  string: ArrayString,
  source: ModuleSource,
  module: number,
  stops: readonly number[],
): Branch[] {
  const branches: Branch[] = [];
  for (let piece = 0; piece + 1 < stops.length; piece++) {
    const low = stops[piece]!;
    const high = stops[piece + 1]!;
    const from = stringNode(string, low, "above");
    const to = stringNode(string, high);
    const name = `${string.id}:module ${module + 1}:piece ${piece}`;
    branches.push(...pieceBranches(name, from, to, source, high - low));
  }
  const substrings = string.substrings ?? 1;
  if (source.kind !== "single-diode" || source.bypass === undefined) return branches;
  for (let tap = 0; tap < substrings; tap++)
    branches.push({
      name: `${string.id}:module ${module + 1}:bypass ${tap}`,
      from: stringNode(string, module + tap / substrings, "above"),
      to: stringNode(string, tap + 1 === substrings ? module + 1 : module + (tap + 1) / substrings),
      kind: "diode",
      ...source.bypass,
    });
  return branches;
}

/** A share of a module's cells, as a source between two nodes. */
function pieceBranches(
  name: string,
  from: string,
  to: string,
  source: ModuleSource,
  share: number,
): Branch[] {
  if (source.kind === "linear") {
    const ohms = source.sourceOhms * share;
    return [{ name, from, to, kind: "voltage-source", volts: source.openCircuitV * share, ohms }];
  }
  const inner = `${name}:inner`;
  const { lightA, saturationA } = source;
  return [
    { name: `${name}:light`, from, to: inner, kind: "current-source", amperes: lightA },
    {
      name: `${name}:cells`,
      from: inner,
      to: from,
      kind: "diode",
      saturationA,
      slopeV: source.slopeV * share,
    },
    { name: `${name}:shunt`, from: inner, to: from, kind: "resistor", ohms: source.shuntOhms * share },
    { name, from: inner, to, kind: "resistor", ohms: source.seriesOhms * share },
  ];
}
