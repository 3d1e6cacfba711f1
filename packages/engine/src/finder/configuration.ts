import { isThroughDiodes } from "./through-diodes.ts";
import { moduleVolts, nodeShares } from "./places.ts";
import type { FunctionalEarth, Reading, StringSpec, Visit } from "./visit.ts";

/** A stretch of one string, from node a to node b, that takes part in a configuration. */
export interface Part {
  readonly string: number;
  readonly fromNode: number;
  readonly toNode: number;
  /** Connectors at both ends are open: damage at an end node may have stayed on the far side. */
  readonly cut: boolean;
}

/**
 * One way the circuit was connected while readings were taken: the stretches in parallel between the two terminals.
 * Everything measured in one configuration depends on two numbers only, its leak conductance and the leak's centroid.
 */
export interface Configuration {
  /** String or circuit id as the readings name it. */
  readonly on: string;
  readonly parts: readonly Part[];
  readonly moduleCount: number;
  /** Expected open-circuit voltage in units of the per-module level: the number of modules, or the sum of given voltages. */
  readonly nominal: number;
  /** Indices into the visit's readings. */
  readonly readings: readonly number[];
}

/**
 * Groups the readings of a visit by the way the circuit was connected, in an order that is theirs and not that in which
 * they were taken: where two configurations tell a leak equally well, the first of them lays the nodes (nodes.ts).
 */
export function configurationsOf(visit: Visit): Configuration[] {
  const groups = new Map<string, { parts: Part[]; on: string; readings: number[] }>();
  for (const index of settledOrder(visit.readings)) {
    const reading = visit.readings[index]!;
    // A clamp reads one string of a circuit, not the circuit: it has a likelihood of its own (leakage-clamp.ts).
    if (reading.kind === "leakage" || isThroughDiodes(visit, reading)) continue;
    const parts = partsOf(visit, reading);
    const key = connectionKey(visit, reading);
    const group = groups.get(key);
    if (group) group.readings.push(index);
    else groups.set(key, { parts, on: reading.on, readings: [index] });
  }
  return [...groups.values()].map((group) =>
    configurationOf(visit.strings, group.on, group.parts, group.readings),
  );
}

/** Indices of the readings, by what was read: all of a string or circuit before its stretches. */
function settledOrder(readings: readonly Reading[]): number[] {
  const keys = readings.map((reading) => {
    const { on, isolated = [], segment, kind, from, to, value } = reading;
    const how = kind === "insulation" ? reading.testVoltage : (reading.shunt ?? null);
    return JSON.stringify([
      on,
      isolated,
      segment ? [1, ...segment] : [0],
      kind,
      from,
      to,
      how,
      value,
      reading.with,
    ]);
  });
  return [...readings.keys()].sort((a, b) => (keys[a]! < keys[b]! ? -1 : keys[a]! > keys[b]! ? 1 : a - b));
}

/** The stretches that a reading, taken or only asked for, sees between its terminals. */
export function partsOf(visit: Visit, reading: Pick<Reading, "on" | "segment" | "isolated">): Part[] {
  const circuit = visit.circuits.find((candidate) => candidate.id === reading.on);
  const ids = circuit ? circuit.strings.filter((id) => !reading.isolated?.includes(id)) : [reading.on];
  return ids.map((id) => {
    const string = visit.strings.findIndex((candidate) => candidate.id === id);
    const modules = visit.strings[string]!.modules;
    return {
      string,
      fromNode: reading.segment?.[0] ?? 0,
      toNode: reading.segment?.[1] ?? modules,
      cut: reading.segment !== undefined,
    };
  });
}

/** What tells one way of connecting from another: the stretches, and whether a functional earth holds a pole of them. */
export function connectionKey(visit: Visit, reading: Pick<Reading, "on" | "segment" | "isolated">): string {
  const isEarthed = earthOn(visit, reading.on, reading.segment !== undefined) !== null;
  return `${partsKey(partsOf(visit, reading))}${isEarthed ? " earthed" : ""}`;
}

/** The functional earth that holds a pole of what is read; cut stretches and other circuits float. */
export function earthOn(visit: Visit, on: string, cut: boolean): FunctionalEarth | null {
  const earth = visit.functionalEarth;
  return earth?.on === on && !earth.opened && !cut ? earth : null;
}

function partsKey(parts: readonly Part[]): string {
  return parts
    .map(
      (part) =>
        `${String(part.string)}:${String(part.fromNode)}-${String(part.toNode)}${part.cut ? "cut" : ""}`,
    )
    .join("|");
}

export function configurationOf(
  strings: readonly StringSpec[],
  on: string,
  parts: readonly Part[],
  readings: readonly number[],
): Configuration {
  let moduleCount = 0;
  for (const part of parts) moduleCount += part.toNode - part.fromNode;
  const first = parts[0];
  const nominal = first === undefined ? 0 : nominalOf(strings[first.string]!, first);
  return { on, parts, moduleCount, nominal, readings };
}

function nominalOf(spec: StringSpec, part: Part): number {
  return moduleVolts(spec)
    .slice(part.fromNode, part.toNode)
    .reduce((sum, volts) => sum + volts, 0);
}

/** Where the healthy leakage of a configuration balances, as a share of its voltage, were it spread evenly. */
export function healthyCentroid(strings: readonly StringSpec[], configuration: Configuration): number {
  let moment = 0;
  for (const part of configuration.parts) {
    const shares = nodeShares(strings[part.string]!);
    const low = shares[part.fromNode]!;
    const span = shares[part.toNode]! - low;
    for (let node = part.fromNode; node < part.toNode; node++)
      moment += ((shares[node]! + shares[node + 1]!) / 2 - low) / span;
  }
  return moment / configuration.moduleCount;
}
