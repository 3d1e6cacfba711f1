import {
  parallelCircuit,
  segmentCircuit,
  stringCircuit,
  testerReads,
  voltmeterReadsV,
  withTerminalLeak,
  type ArrayDescription,
  type ArrayInstrument,
  type ArrayString,
  type FloatingCircuit,
  type Pole,
  type Probe,
  type StringFault,
  type StringLeakage,
} from "@earthbell/engine";
import type { GeneratedCase } from "./generated-arrays.ts";

/**
 * The reading by the closed forms, in the size compared: V of a meter, A of a tester. Home-run damage counts at the string's end.
 * `moduleVocsV` are the voltages of the moment where the modules are not linear sources.
 */
export function closedFormReading(generated: GeneratedCase, moduleVocsV?: readonly number[]): number {
  const { array, instrument } = generated;
  const circuit = measuredCircuit(array, instrument, moduleVocsV);
  if (instrument.kind === "tester") {
    const terminal = terminalOf(instrument.at);
    return testerReads(circuit, { terminal, testV: instrument.testV, seriesOhms: instrument.seriesOhms })
      .currentA;
  }
  if (instrument.to !== "earth") return circuit.openCircuitV;
  const { inputOhms, shuntOhms } = instrument;
  const terminal = terminalOf(instrument.from);
  return voltmeterReadsV(circuit, { terminal, inputOhms, ...(shuntOhms === undefined ? {} : { shuntOhms }) });
}

function terminalOf(probe: Probe): Pole {
  if ("bus" in probe) return probe.bus;
  if ("homeRun" in probe) return probe.homeRun;
  return probe.side === "above" ? "-" : "+";
}

function measuredCircuit(
  array: ArrayDescription,
  instrument: ArrayInstrument,
  moduleVocsV: readonly number[] | undefined,
): FloatingCircuit {
  const probe = instrument.kind === "tester" ? instrument.at : instrument.from;
  if ("bus" in probe) {
    const joined = array.strings.filter(({ fuseOut }) => fuseOut?.positive !== true);
    let circuit = parallelCircuit(joined.map((string) => stringCircuit(leakageOf(string, array, undefined))));
    for (const { place, ohms } of array.faults)
      if ("bus" in place) circuit = withTerminalLeak(circuit, place.bus, 1 / ohms);
    return circuit;
  }
  const [string] = array.strings;
  const leakage = leakageOf(string!, array, moduleVocsV);
  if ("homeRun" in probe) return stringCircuit(leakage);
  const cuts = string!.openNodes!;
  const from = probe.side === "above" ? probe.at : cuts.findLast((cut) => cut < probe.at)!;
  const to = probe.side === "above" ? cuts.find((cut) => cut > probe.at)! : probe.at;
  return segmentCircuit(leakage, from, to);
}

function leakageOf(
  string: ArrayString,
  array: ArrayDescription,
  moduleVocsV: readonly number[] | undefined,
): StringLeakage {
  const opened = (string.openNodes?.length ?? 0) > 0;
  const faults: StringFault[] = [];
  for (const { place, ohms, staysWith } of array.faults) {
    if (!("string" in place) || place.string !== string.id) continue;
    if ("at" in place) faults.push({ at: place.at, ohms, ...(staysWith === undefined ? {} : { staysWith }) });
    else if (!opened) faults.push({ at: place.homeRun === "-" ? 0 : string.modules.length, ohms });
  }
  return {
    moduleVocsV:
      moduleVocsV ?? string.modules.map((module) => (module.kind === "linear" ? module.openCircuitV : NaN)),
    moduleLeaksS: string.moduleLeaksS ?? [],
    faults,
  };
}
