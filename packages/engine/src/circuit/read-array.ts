import type { ArrayDescription, ArrayInstrument, ArrayString, Pole, Probe } from "./array-description.ts";
import { SHORTING_OHMS, solveArray } from "./array-network.ts";
import { CircuitError } from "./circuit-error.ts";
import { LadderWalk, terminalState, type TerminalLoad, type TwoPort } from "./ladder.ts";

/**
 * What the instrument shows on the array: `solveArray(array, instrument).reading`, found by reducing ladders where every source
 * involved is linear and the probes touch the ends of what is measured, else by the whole network.
 */
export function readArray(array: ArrayDescription, instrument: ArrayInstrument): number {
  const measured = measuredLadders(array, instrument);
  const reading = measured === null ? null : readLadders(measured, instrument);
  return reading ?? solveArray(array, instrument).reading!;
}

/** What lies between the two terminals that the instrument touches. */
interface Measured {
  readonly ladders: readonly TwoPort[];
  readonly atTerminals: TerminalLoad;
  readonly terminal: (probe: Probe) => Pole;
}

const NOTHING: TerminalLoad = { negativeS: 0, positiveS: 0, acrossS: 0, negativeA: 0, positiveA: 0 };

function readLadders(measured: Measured, instrument: ArrayInstrument): number | null {
  const { ladders, atTerminals, terminal } = measured;
  if (instrument.kind === "voltmeter") {
    const siemens =
      1 / instrument.inputOhms + (instrument.shuntOhms === undefined ? 0 : 1 / instrument.shuntOhms);
    const from = terminal(instrument.from);
    const to = instrument.to === "earth" ? null : terminal(instrument.to);
    const load = to === null ? loadAt(from, siemens, 0) : { ...NOTHING, acrossS: siemens };
    const solved = terminalState(ladders, together(atTerminals, load));
    if (solved === null) return null;
    const at = { "+": solved.positiveV, "-": solved.negativeV };
    return at[from] - (to === null ? 0 : at[to]);
  }
  // A tester of no resistance is a fixed potential, which the whole network covers.
  const { testV, seriesOhms, shortedTo } = instrument;
  if (seriesOhms === 0) return null;
  const at = terminal(instrument.at);
  const across: TerminalLoad = { ...NOTHING, acrossS: shortedTo === undefined ? 0 : 1 / SHORTING_OHMS };
  const load = together(loadAt(at, 1 / seriesOhms, testV / seriesOhms), across);
  const solved = terminalState(ladders, together(atTerminals, load));
  if (solved === null) return null;
  // What goes in at the tester comes out through the leaks; their sum keeps the digits that testV − potential would lose.
  const currentA =
    solved.leakA + atTerminals.negativeS * solved.negativeV + atTerminals.positiveS * solved.positiveV;
  return testV / currentA - seriesOhms;
}

function loadAt(pole: Pole, siemens: number, amperes: number): TerminalLoad {
  return pole === "+"
    ? { ...NOTHING, positiveS: siemens, positiveA: amperes }
    : { ...NOTHING, negativeS: siemens, negativeA: amperes };
}

function together(one: TerminalLoad, other: TerminalLoad): TerminalLoad {
  return {
    negativeS: one.negativeS + other.negativeS,
    positiveS: one.positiveS + other.positiveS,
    acrossS: one.acrossS + other.acrossS,
    negativeA: one.negativeA + other.negativeA,
    positiveA: one.positiveA + other.positiveA,
  };
}

function measuredLadders(array: ArrayDescription, instrument: ArrayInstrument): Measured | null {
  const probes = probesOf(instrument);
  const [first] = probes;
  if (first === undefined) return null;
  if ("bus" in first) return probes.every((probe) => "bus" in probe) ? measuredBus(array) : null;
  const string = array.strings.find(({ id }) => id === first.string);
  if (string === undefined || !probes.every((probe) => "string" in probe && probe.string === string.id))
    return null;
  return "homeRun" in first ? measuredString(array, string, probes) : measuredSegment(array, string, probes);
}

function probesOf(instrument: ArrayInstrument): Probe[] {
  if (instrument.kind === "voltmeter")
    return instrument.to === "earth" ? [instrument.from] : [instrument.from, instrument.to];
  return instrument.shortedTo === undefined ? [instrument.at] : [instrument.at, instrument.shortedTo];
}

function measuredBus(array: ArrayDescription): Measured | null {
  const joined: ArrayString[] = [];
  for (const string of array.strings) {
    if (isIsolated(string)) continue;
    const simple = string.fuseOut?.positive !== true && string.fuseOut?.negative !== true;
    if (!simple || string.blockingDiode !== undefined || hasOpenNodes(string)) return null;
    joined.push(string);
  }
  const ladders = joined.map((string) => wholeString(array, string));
  if (joined.length === 0 || ladders.some((ladder) => ladder === null)) return null;
  let atTerminals: TerminalLoad = NOTHING;
  for (const { place, ohms } of array.faults)
    if ("bus" in place) atTerminals = together(atTerminals, loadAt(place.bus, 1 / ohms, 0));
  if (array.earthing !== undefined)
    atTerminals = together(atTerminals, loadAt(array.earthing.pole, 1 / array.earthing.ohms, 0));
  if (array.loadOhms !== undefined)
    atTerminals = together(atTerminals, { ...NOTHING, acrossS: 1 / array.loadOhms });
  const terminal = (probe: Probe): Pole => ("bus" in probe ? probe.bus : notATerminal(probe));
  return { ladders: ladders as TwoPort[], atTerminals, terminal };
}

function measuredString(
  array: ArrayDescription,
  string: ArrayString,
  probes: readonly Probe[],
): Measured | null {
  if (!isIsolated(string) || hasOpenNodes(string)) return null;
  if (!probes.every((probe) => "homeRun" in probe)) return null;
  const ladder = wholeString(array, string);
  if (ladder === null) return null;
  const terminal = (probe: Probe): Pole => ("homeRun" in probe ? probe.homeRun : notATerminal(probe));
  return { ladders: [ladder], atTerminals: NOTHING, terminal };
}

function measuredSegment(
  array: ArrayDescription,
  string: ArrayString,
  probes: readonly Probe[],
): Measured | null {
  const [probe] = probes;
  if (probe === undefined || !("at" in probe)) return null;
  const cuts = [...(string.openNodes ?? [])].sort((a, b) => a - b);
  const low = probe.side === "above" ? probe.at : cuts.findLast((cut) => cut < probe.at);
  const high = probe.side === "above" ? cuts.find((cut) => cut > probe.at) : probe.at;
  if (low === undefined || high === undefined || !cuts.includes(low) || !cuts.includes(high)) return null;
  const terminalOf = (other: Probe): Pole | null => {
    if (!("at" in other)) return null;
    if (other.at === low && other.side === "above") return "-";
    return other.at === high && other.side !== "above" ? "+" : null;
  };
  if (probes.some((other) => terminalOf(other) === null)) return null;
  const walk = new LadderWalk();
  if (!climb(walk, array, string, low, high)) return null;
  const terminal = (other: Probe): Pole => terminalOf(other) ?? notATerminal(other);
  return { ladders: [walk.end()], atTerminals: NOTHING, terminal };
}

function isIsolated(string: ArrayString): boolean {
  return string.fuseOut?.positive === true && string.fuseOut.negative === true;
}

function hasOpenNodes(string: ArrayString): boolean {
  return (string.openNodes?.length ?? 0) > 0;
}

function notATerminal(probe: Probe): never {
  throw new CircuitError("CIRCUIT_PLACE_UNKNOWN", `probe ${JSON.stringify(probe)} is not at a terminal`);
}

/** The string with its home runs; null when a module is not linear. */
function wholeString(array: ArrayDescription, string: ArrayString): TwoPort | null {
  const walk = new LadderWalk();
  climbHomeRun(walk, array, string, "-");
  if (!climb(walk, array, string, 0, string.modules.length)) return null;
  climbHomeRun(walk, array, string, "+");
  return walk.end();
}

function climbHomeRun(walk: LadderWalk, array: ArrayDescription, string: ArrayString, pole: Pole): void {
  const ohms = (pole === "+" ? string.homeRunOhms?.positive : string.homeRunOhms?.negative) ?? 0;
  const faults: { at: number; siemens: number }[] = [];
  for (const { place, ohms: faultOhms } of array.faults) {
    if (!("homeRun" in place) || place.string !== string.id || place.homeRun !== pole) continue;
    const along = place.along ?? 0.5;
    faults.push({ at: pole === "+" ? along : 1 - along, siemens: 1 / faultOhms });
  }
  faults.sort((a, b) => a.at - b.at);
  let reached = 0;
  for (const fault of faults) {
    walk.source(0, ohms * (fault.at - reached));
    walk.leak(fault.siemens);
    reached = fault.at;
  }
  walk.source(0, ohms * (1 - reached));
}

/** Modules `from` to `to` with their leaks and faults. @returns false when a module is not linear. */
function climb(
  walk: LadderWalk,
  array: ArrayDescription,
  string: ArrayString,
  from: number,
  to: number,
): boolean {
  const faults = faultsBetween(array, string, from, to);
  let next = 0;
  const leakUpTo = (at: number): void => {
    for (; next < faults.length && faults[next]!.at === at; next++) walk.leak(faults[next]!.siemens);
  };
  leakUpTo(from);
  for (let module = from; module < to; module++) {
    const source = string.modules[module]!;
    if (source.kind !== "linear") return false;
    const halfS = (string.moduleLeaksS?.[module] ?? 0) / 2;
    walk.leak(halfS);
    let reached = module;
    while (next < faults.length && faults[next]!.at < module + 1) {
      const share = faults[next]!.at - reached;
      walk.source(source.openCircuitV * share, source.sourceOhms * share);
      reached = faults[next]!.at;
      leakUpTo(reached);
    }
    const rest = module + 1 - reached;
    walk.source(source.openCircuitV * rest, source.sourceOhms * rest);
    walk.leak(halfS);
    leakUpTo(module + 1);
  }
  return true;
}

/** Faults of the string from `from` to `to`, in order; at an opened end only those that stay with this part. */
function faultsBetween(array: ArrayDescription, string: ArrayString, from: number, to: number) {
  const found: { at: number; siemens: number }[] = [];
  for (const { place, ohms, staysWith } of array.faults) {
    if (!("at" in place) || place.string !== string.id || place.at < from || place.at > to) continue;
    const opened = string.openNodes?.includes(place.at) === true;
    const side = staysWith ?? "below";
    if (opened && place.at === from && side === "below") continue;
    if (opened && place.at === to && side === "above") continue;
    found.push({ at: place.at, siemens: 1 / ohms });
  }
  return found.sort((a, b) => a.at - b.at);
}
