import { commissioningFaults } from "./commissioning-faults.ts";
import { deskFaults } from "./desk-faults.ts";
import { deviceFaults } from "./device-faults.ts";
import type { Explanation } from "./explanation.ts";
import { fieldFaults } from "./field-faults.ts";
import { overrideFaults } from "./override-faults.ts";
import { recordFaults } from "./record-faults.ts";
import { textFaults } from "./text-faults.ts";

const ALL = {
  ...textFaults,
  ...fieldFaults,
  ...recordFaults,
  ...overrideFaults,
  ...commissioningFaults,
  ...deskFaults,
  ...deviceFaults,
};

/** Every code that an input fault can carry. Codes are stable for ever; texts may change. */
export type FaultCode = keyof typeof ALL;

/** One page of the catalogue, as `explain` prints it. */
export interface FaultPage extends Explanation {
  readonly code: FaultCode;
}

export const FAULT_CATALOGUE: readonly FaultPage[] = (Object.keys(ALL) as FaultCode[]).map((code) => ({
  code,
  ...ALL[code],
}));

/** What a fault code means and what to do about it; undefined for a code that is none of an input. */
export function explainFault(code: string): FaultPage | undefined {
  return FAULT_CATALOGUE.find((page) => page.code === code);
}
