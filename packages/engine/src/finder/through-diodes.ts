import type { Reading, Visit } from "./visit.ts";

/** Whether a reading was taken on a joined circuit whose strings have blocking diodes: it is left out of the inference. */
export function isThroughDiodes(visit: Visit, reading: Reading): boolean {
  const id = reading.kind === "leakage" ? reading.circuit : reading.on;
  return visit.circuits.some((circuit) => circuit.id === id && circuit.blockingDiodes === true);
}
